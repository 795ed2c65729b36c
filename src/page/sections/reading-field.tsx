/** The field for a reading, where its prediction stands. */
import { expected, type Figures, type PointFigure, readable } from "../compute/figures.ts";
import { mode } from "../compute/live.ts";
import { circuit } from "../compute/netlist.ts";
import { readingTyped } from "../state/document.ts";
import { announce, nextPoint } from "../state/hand.ts";
import { markOf, noted, readingVolts, SIGNS } from "../state/marks.ts";
import { dispatch, endStroke, readings } from "../state/store.ts";
import { pointWords } from "../words.ts";
import { furtherOpen, open } from "./chart-state.ts";
import { markWords, readText } from "./voltage-text.ts";

/** Id of the field of a point. */
const idOf = (key: string): string => `reading-${key.replaceAll(" ", "-")}`;

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

/** From a net to the point worth measuring next if somebody knows it, else to the next one without a reading. */
export function goOn(from: string, figures: Figures): void {
  const next = nextPoint.value;
  if (next !== undefined && next.mode !== mode.value) {
    announce(`Measure next: ${pointWords(next.point)}, in ${next.mode}`);
  }
  if (next?.mode === mode.value && focusReading(next.point, figures)) return;
  const all = readable(figures).filter((each) => furtherOpen.value || !figures.further.includes(each));
  const at = all.findIndex(({ net }) => net === from);
  const onward = [...all.slice(at + 1), ...all.slice(0, at + 1)];
  const empty = onward.find((each) => readingText(each, mode.value) === "");
  if (empty !== undefined) focusReading(empty.key, figures);
}

export interface Judged {
  readonly sign: string;
  readonly words: string;
  readonly wrong: boolean;
}

export const UNJUDGED: Judged = { sign: "", words: "", wrong: false };

function judged(figure: PointFigure, text: string): Judged {
  const value = readingVolts(text, expected(figure));
  if (value === undefined) return UNJUDGED;
  if (typeof value !== "number") return { sign: "?", words: value.message, wrong: true };
  if (figure.band === undefined) return UNJUDGED;
  const mark = markOf(value, noted(text), figure.band);
  return { sign: SIGNS[mark], words: markWords(mark, figure.band, "volts"), wrong: mark !== "inside" };
}

interface FieldProps {
  /** Key of its figure. */
  readonly name: string;
  readonly label: string;
  readonly text: string;
  readonly judged: Judged;
  readonly onText: (text: string) => void;
  readonly onEnter: () => void;
}

/** The field itself: Enter goes on, the arrows up and down open and close the line of what makes the figure so. */
export function Field({ name, label, text, judged: { sign, words, wrong }, onText, onEnter }: FieldProps) {
  const markId = `mark-${idOf(name)}`;
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key === "Enter") onEnter();
    else if (event.key === "ArrowDown" || event.key === "ArrowUp") open(name);
    else return;
    event.preventDefault();
  };
  return (
    <span class={wrong ? "reading look" : "reading"}>
      <input
        id={idOf(name)}
        type="text"
        inputMode="text"
        autocomplete="off"
        spellcheck={false}
        enterKeyHint="next"
        aria-label={label}
        aria-describedby={markId}
        aria-keyshortcuts="Enter ArrowDown"
        value={text}
        onInput={({ currentTarget }) => onText(currentTarget.value.replaceAll("-", "\u2212"))}
        onKeyDown={onKeyDown}
        onBlur={endStroke}
      />
      <span class="mark" aria-hidden="true">
        {sign}
      </span>
      <span id={markId} class="unseen" aria-live="polite">
        {words}
      </span>
    </span>
  );
}

export function ReadingField({ figure, figures }: { figure: PointFigure; figures: Figures }) {
  const { key, net } = figure;
  const text = readingText(figure, mode.value);
  return (
    <Field
      name={key}
      label={`reading at ${pointWords(key)}, volts`}
      text={text}
      judged={judged(figure, text)}
      onText={(next) =>
        dispatch(
          { kind: "reading", mode: mode.value, point: net, text: next },
          `reading ${mode.value} ${net}`,
        )
      }
      onEnter={() => goOn(net, figures)}
    />
  );
}
