/** The field for a collector current that was measured. A bare number in it is milliamperes, as it stands beside mA. */
import type { Circuit } from "../../circuit/circuit.ts";
import type { Look } from "../../circuit/look.ts";
import { readingAt } from "../../language/index.ts";
import type { CurrentFigure } from "../compute/figures.ts";
import { mode } from "../compute/live.ts";
import { circuit } from "../compute/netlist.ts";
import { readingTyped } from "../state/document.ts";
import { markOf, noted, SIGNS } from "../state/marks.ts";
import { readings } from "../state/store.ts";
import { pointWords } from "../words.ts";
import { Field, type Judged, UNJUDGED, write } from "./reading-field.tsx";
import { markWords, readText } from "./voltage-text.ts";

/** Index of the collector among a transistor's pins. */
const COLLECTOR = 2;

/** Under which name the sheet keeps the current of a look: `T1 current`; undefined if it is no collector's. */
export function currentPoint({ parts }: Circuit, look: Look): string | undefined {
  if (look.kind !== "current" || look.pin !== COLLECTOR) return undefined;
  const part = parts[look.part];
  return part?.kind === "transistor" ? `${part.name} current` : undefined;
}

/** What the netlist says was read there: under which name, and as one would type it. */
function stated(now: Circuit, key: string): { readonly point: string; readonly text: string } | undefined {
  const found = now.otherReadings?.find(
    (each) => each.mode === mode.value && currentPoint(now, each.look) === key,
  );
  return found && { point: found.point, text: readText(1e3 * Math.abs(found.value)) };
}

const BARE = /^[+\u2212\d.,]+$/;

/** As the sheet keeps it, with its unit, so that it means the same wherever it is read. */
export const keptCurrent = (typed: string): string => (BARE.test(typed) ? `${typed} mA` : typed);
/** As the field shows it. */
export const shownCurrent = (kept: string): string => kept.replace(/^([+\u2212\d.,]+) mA$/, "$1");

function judged(now: Circuit, { key, band }: CurrentFigure, text: string): Judged {
  if (text.trim() === "") return UNJUDGED;
  const found = readingAt(now, mode.value, key, text);
  if (!("mode" in found)) return { sign: "?", words: found.message, wrong: true };
  if (band === undefined) return UNJUDGED;
  const mark = markOf(Math.abs(found.value), noted(text), band);
  const inMilliamperes = { least: 1e3 * band.least, greatest: 1e3 * band.greatest };
  return {
    sign: SIGNS[mark],
    words: markWords(mark, inMilliamperes, "milliamperes"),
    wrong: mark !== "inside",
  };
}

export function CurrentField({ figure }: { figure: CurrentFigure }) {
  const now = circuit.value;
  const { key } = figure;
  if (now === undefined) return null;
  const given = stated(now, key);
  const point = given?.point ?? key;
  const kept = readingTyped(readings.value, mode.value, point) ?? keptCurrent(given?.text ?? "");
  return (
    <Field
      name={key}
      label={`reading of ${pointWords(key)}, milliamperes`}
      text={shownCurrent(kept)}
      judged={judged(now, figure, kept)}
      onText={(typed) => write(point, keptCurrent(typed))}
    />
  );
}
