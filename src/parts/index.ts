import type { Circuit } from "../circuit/circuit.ts";
import { battery } from "./battery.ts";
import { capacitor } from "./capacitor.ts";
import { diode } from "./diode.ts";
import { electrolytic } from "./electrolytic.ts";
import { generator } from "./generator.ts";
import { governor } from "./governor.ts";
import { head } from "./head.ts";
import { inductor } from "./inductor.ts";
import type { PartKind } from "./kind.ts";
import { lamp } from "./lamp.ts";
import { loudspeaker } from "./loudspeaker.ts";
import { meter } from "./meter.ts";
import { motor } from "./motor.ts";
import { potentiometer } from "./potentiometer.ts";
import { resistor } from "./resistor.ts";
import { switchKind } from "./switch.ts";
import { thermistor } from "./thermistor.ts";
import { transformer } from "./transformer.ts";
import { transistor } from "./transistor.ts";
import { trimmer } from "./trimmer.ts";

/** Every kind of part there is, in the order the documentation lists them. */
export const PART_KINDS: readonly PartKind[] = [
  resistor,
  capacitor,
  electrolytic,
  inductor,
  potentiometer,
  trimmer,
  thermistor,
  diode,
  transistor,
  battery,
  generator,
  head,
  loudspeaker,
  meter,
  lamp,
  transformer,
  switchKind,
  motor,
  governor,
];

const BY_KEYWORD = new Map(PART_KINDS.map((kind) => [kind.keyword, kind]));

/** The kind with this keyword, if there is one. */
export const partKind = (keyword: string): PartKind | undefined => BY_KEYWORD.get(keyword);

/** The kind of a part that the reader has accepted. */
export function kindOf(part: { readonly kind: string }): PartKind {
  const kind = BY_KEYWORD.get(part.kind);
  if (kind === undefined) throw new Error(`no kind of part is called ${part.kind}`);
  return kind;
}

/** Names of the generators and heads of a circuit. */
export const sourcesIn = ({ parts }: Circuit): readonly string[] =>
  parts.filter((part) => kindOf(part).source).map(({ name }) => name);
