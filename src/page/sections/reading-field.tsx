/** The field for a reading, where its prediction stands. */
import { expected, type Figures, figuresOf, type PointFigure, readable } from "../compute/figures.ts";
import { mode, present } from "../compute/live.ts";
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

/** The figures as they are now: asked for by the hand, not while pictures are drawn. */
function figuresNow(): Figures | undefined {
  const [now, solved] = [circuit.peek(), present.peek()];
  return now === undefined || solved === undefined ? undefined : figuresOf(now, solved.chart);
}

/** The net at which one stands with a figure; with a current, that of the collector. */
const netOf = (key: string, { transistors, nets, further }: Figures): string | undefined =>
  [...transistors.flatMap(({ pins }) => pins), ...nets, ...further].find((figure) => figure.key === key)
    ?.net ?? transistors.find(({ current }) => current.key === key)?.pins.at(-1)?.net;

/** From a figure to the point worth measuring next if somebody knows it, else to the next one without a reading. */
function goOn(from: string): void {
  const figures = figuresNow();
  if (figures === undefined) return;
  const [next, inMode] = [nextPoint.peek(), mode.peek()];
  if (next !== undefined && next.mode !== inMode) {
    announce(`Measure next: ${pointWords(next.point)}, in ${next.mode}`);
  }
  if (next?.mode === inMode && focusReading(next.point, figures)) return;
  const all = readable(figures).filter((each) => furtherOpen.peek() || !figures.further.includes(each));
  const net = netOf(from, figures);
  const at = all.findIndex((each) => each.net === net);
  const onward = [...all.slice(at + 1), ...all.slice(0, at + 1)];
  const empty = onward.find((each) => readingText(each, inMode) === "");
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
  /** The hand goes elsewhere. */
  readonly onLeave?: () => void;
}

function onKeyDown(event: KeyboardEvent, name: string): void {
  if (event.key === "Enter") goOn(name);
  else if (event.key === "ArrowDown" || event.key === "ArrowUp") open(name);
  else return;
  event.preventDefault();
}

/** The field itself: Enter goes on, the arrows up and down open and close the line of what makes the figure so. */
export function Field({ name, label, text, judged: { sign, words, wrong }, onText, onLeave }: FieldProps) {
  const markId = `mark-${idOf(name)}`;
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
        onKeyDown={(event) => onKeyDown(event, name)}
        onBlur={() => {
          onLeave?.();
          endStroke();
        }}
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

/** Writes down what is typed at a point, in the mode looked at. */
export function write(point: string, text: string): void {
  const inMode = mode.peek();
  dispatch({ kind: "reading", mode: inMode, point, text }, `reading ${inMode} ${point}`);
}

/** The sign with which a reading is taken is written before it, so that its mark agrees with what stands there. */
export function signed(text: string, expectedVolts = 0): string {
  const value = readingVolts(text, expectedVolts);
  const bare = /^\s*[\d.,]/.test(text);
  return bare && typeof value === "number" && value < 0 ? `\u2212${text.trim()}` : text;
}

export function ReadingField({ figure }: { figure: PointFigure }) {
  const { key, net } = figure;
  const text = readingText(figure, mode.value);
  return (
    <Field
      name={key}
      label={`reading at ${pointWords(key)}, volts`}
      text={text}
      judged={judged(figure, text)}
      onText={(typed) => write(net, typed)}
      onLeave={() => {
        const asTaken = signed(text, expected(figure));
        if (asTaken !== text) write(net, asTaken);
      }}
    />
  );
}
