/** The words of a kind of part, for splitting its statement and for hints. */
import type { PartKind } from "../parts/kind.ts";
import type { Word } from "./scan.ts";

export interface Clauses {
  readonly head: readonly Word[];
  /** Lines of their own: `winding …`, `pole …`. */
  readonly own: readonly (readonly Word[])[];
}

const LINES: Readonly<Record<string, string>> = { windings: "winding", poles: "pole" };

/** Parts the words behind the keyword into those of the part itself and those of its windings or poles. */
export function clausesOf(words: readonly Word[], kind: PartKind): Clauses {
  const start = LINES[kind.connection.form];
  if (start === undefined) return { head: words, own: [] };
  const head: Word[] = [];
  const own: Word[][] = [];
  let into = head;
  for (const word of words) {
    if (word.text === start && (word.first || into === head) && word !== words[0]) {
      into = [];
      own.push(into);
    } else if (word.first && Object.hasOwn(kind.words ?? {}, word.text)) into = head;
    into.push(word);
  }
  return { head, own };
}

/** Every word that may stand in a statement of this kind. */
export function vocabulary({
  words = {},
  references = {},
  choices = {},
  connection,
  aliases = {},
}: PartKind): string[] {
  const labels = connection.form === "labelled" ? connection.pins : ["to"];
  return [
    ...labels,
    ...Object.keys(words),
    ...Object.keys(references),
    ...Object.values(choices).flat(),
    ...Object.keys(aliases),
  ];
}

const EXAMPLES: Readonly<Record<string, string>> = {
  resistor: "4k7 A to B",
  capacitor: "22n A to B",
  electrolytic: "100µ 10 V plus A minus B",
  inductor: "4.7mH A to B",
  potentiometer: "10k log A to WIPER to B",
  trimmer: "500R A to B",
  thermistor: "130R at 25 °C A to B",
  diode: "TYPE anode A cathode B",
  transistor: "TYPE e A b B c C",
  battery: "6 V plus A minus B",
  generator: "1 mV A to B",
  head: "80mH A to B",
  loudspeaker: "8 ohm A to B",
  meter: "650R plus A minus B",
  lamp: "6 V 50 mA A to B",
  transformer: "with an indented line for each winding",
  motor: "18 ohm emf 2.1 mV/rpm inertia 40 gcm2 drag 0.4 mNm plus A minus B",
  governor: "of M1 opens 2400 rpm closes 2380 rpm A to B",
  switch: "POSITION POSITION, with an indented line for each pole",
};

/** A statement of this kind as one would write it. */
export function usage(kind: PartKind, name: string): string {
  return `write it as ${kind.keyword} ${name} ${EXAMPLES[kind.keyword] ?? "…"}`;
}
