/** The field for a reading, where its prediction stands. */
import { signal } from "@preact/signals";
import { expected, type Figures, type PointFigure, readable } from "../compute/figures.ts";
import { mode } from "../compute/live.ts";
import { circuit } from "../compute/netlist.ts";
import { readingTyped } from "../state/document.ts";
import { announce, nextPoint } from "../state/hand.ts";
import { markOf, noted, readingVolts, SIGNS } from "../state/marks.ts";
import { dispatch, endStroke, readings } from "../state/store.ts";
import { pointWords } from "../words.ts";
import { markWords, readText } from "./voltage-text.ts";

/** Whether the nets that one seldom probes are open to the eye. */
export const furtherOpen = signal(false);

const idOf = (key: string): string => `reading-${key}`;

/** The text in the field: what was typed, else what the netlist says was read. */
export function readingText({ net, read }: PointFigure, inMode: string): string {
  const typed = readingTyped(readings.value, inMode, net);
  return typed ?? (read === undefined ? "" : readText(read));
}

/** Focuses the field of a point; false if the sheet has none. */
export function focusReading(point: string, figures: Figures): boolean {
  const nets = circuit.value?.nets ?? [];
  const net = nets.find(({ name, points }) => name === point || points.includes(point))?.name;
  const figure =
    readable(figures).find(({ key }) => key === point) ?? readable(figures).find((each) => each.net === net);
  const field = figure && document.getElementById(idOf(figure.key));
  if (!(field instanceof HTMLInputElement)) return false;
  if (figures.further.includes(figure!)) furtherOpen.value = true;
  // a line that opens is on the page a moment later
  setTimeout(() => {
    field.focus();
    field.select();
  });
  return true;
}

/** The point worth measuring next if somebody knows it, else the next one without a reading. */
function goOn(from: PointFigure, figures: Figures): void {
  const next = nextPoint.value;
  if (next !== undefined && next.mode !== mode.value) {
    announce(`Measure next: ${pointWords(next.point)}, in ${next.mode}`);
  }
  if (next?.mode === mode.value && focusReading(next.point, figures)) return;
  const all = readable(figures).filter((each) => furtherOpen.value || !figures.further.includes(each));
  const at = all.findIndex(({ net }) => net === from.net);
  const onward = [...all.slice(at + 1), ...all.slice(0, at + 1)];
  const empty = onward.find((each) => readingText(each, mode.value) === "");
  if (empty !== undefined) focusReading(empty.key, figures);
}

interface Judged {
  readonly sign: string;
  readonly words: string;
  readonly wrong: boolean;
}

const UNJUDGED: Judged = { sign: "", words: "", wrong: false };

function judged(figure: PointFigure, text: string): Judged {
  const value = readingVolts(text, expected(figure));
  if (value === undefined) return UNJUDGED;
  if (typeof value !== "number") return { sign: "?", words: value.message, wrong: true };
  if (figure.band === undefined) return UNJUDGED;
  const mark = markOf(value, noted(text), figure.band);
  return { sign: SIGNS[mark], words: markWords(mark, figure.band), wrong: mark !== "inside" };
}

export function ReadingField({ figure, figures }: { figure: PointFigure; figures: Figures }) {
  const { key, net } = figure;
  const text = readingText(figure, mode.value);
  const { sign, words, wrong } = judged(figure, text);
  const put = (next: string, stroke?: string) =>
    dispatch({ kind: "reading", mode: mode.value, point: net, text: next }, stroke);
  return (
    <span class={wrong ? "reading look" : "reading"}>
      <input
        id={idOf(key)}
        type="text"
        inputMode="text"
        autocomplete="off"
        spellcheck={false}
        enterKeyHint="next"
        aria-label={`reading at ${pointWords(key)}, volts`}
        aria-describedby={`mark-${key}`}
        value={text}
        onInput={({ currentTarget }) =>
          put(currentTarget.value.replaceAll("-", "\u2212"), `reading ${mode.value} ${net}`)
        }
        onKeyDown={(event) => {
          if (event.key !== "Enter") return;
          event.preventDefault();
          goOn(figure, figures);
        }}
        onBlur={endStroke}
      />
      <span class="mark" aria-hidden="true">
        {sign}
      </span>
      <span id={`mark-${key}`} class="unseen" aria-live="polite">
        {words}
      </span>
    </span>
  );
}
