/** The oscillogram of a run with a cursor, moved by keys or pointer; its values in words beneath. */
import { useEffect, useRef } from "preact/hooks";
import type { Waveform } from "../../bench/waveform/results.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import { TIME_AXIS, waveformSvg } from "../../report/waveform-svg.ts";
import { drawnStrips, secondsText, unitText } from "../../report/waveform-words.ts";
import { Drawing } from "../controls/drawing.tsx";
import { cursorAt } from "./waveform-state.ts";

interface OscillogramProps {
  readonly now: Circuit;
  readonly result: Waveform;
  /** What was asked, in a line. */
  readonly title: string;
}

/** Steps of the arrow keys, and of the page keys: a thousandth and a twentieth of the run. */
const PAGE = 50;

const STEPS: Readonly<Record<string, number>> = {
  ArrowLeft: -1,
  ArrowDown: -1,
  ArrowRight: 1,
  ArrowUp: 1,
  PageDown: -PAGE,
  PageUp: PAGE,
  Home: Number.NEGATIVE_INFINITY,
  End: Number.POSITIVE_INFINITY,
};

/** `at 1.25 ms: out −3.21 V · rail −8.6 V`. */
export function cursorText(now: Circuit, result: Waveform, index: number): string {
  const values = drawnStrips(now, result).map(
    ({ name, unit, values }) => `${name} ${unitText(values[index] ?? 0, unit)}`,
  );
  return `At ${secondsText(result.seconds[index] ?? 0)}: ${values.join(" · ")}`;
}

/** Share of the axis of time at which a value stands. */
const shareOf = ({ seconds }: Waveform, index: number): number =>
  (seconds[index] ?? 0) / (seconds.at(-1) || 1);

const SVG = "http://www.w3.org/2000/svg";

/** From the top of the first graticule to the foot of the last. */
function heightOf(drawing: SVGSVGElement): { readonly y1: string; readonly y2: string } {
  const ends = [...drawing.querySelectorAll(":scope > line, :scope > g:not(.cursor) line")].flatMap((line) =>
    ["y1", "y2"].map((key) => Number(line.getAttribute(key))),
  );
  return { y1: String(Math.min(...ends)), y2: String(Math.max(...ends)) };
}

/** The line of the cursor in a drawing: made when there is none yet, at a share of the axis of time. */
function drawCursor(drawing: SVGSVGElement, share: number): void {
  const old = drawing.querySelector(".cursor line");
  const line = old ?? document.createElementNS(SVG, "line");
  const { left, across } = TIME_AXIS;
  const x = String(left + across * share);
  const at = { x1: x, x2: x, ...heightOf(drawing) };
  for (const [key, value] of Object.entries(at)) line.setAttribute(key, value);
  if (old !== null) return;
  const group = document.createElementNS(SVG, "g");
  group.setAttribute("class", "cursor");
  group.append(line);
  drawing.append(group);
}

export function Oscillogram({ now, result, title }: OscillogramProps) {
  const place = useRef<HTMLDivElement>(null);
  const last = result.seconds.length - 1;
  const index = Math.min(Math.max(0, last), cursorAt.value);
  const put = (to: number) => {
    cursorAt.value = Math.min(last, Math.max(0, Math.round(to)));
  };
  const text = waveformSvg({ ...now, title: "" }, [result], []);
  useEffect(() => {
    const drawing = place.current?.querySelector("svg");
    if (drawing != null) drawCursor(drawing, shareOf(result, index));
  }, [text, result, index]);
  const onKey = (event: KeyboardEvent) => {
    const step = STEPS[event.key];
    if (step === undefined) return;
    event.preventDefault();
    // keys come faster than pictures
    put(Math.min(last, cursorAt.peek()) + step * (event.shiftKey ? 5 : 1));
  };
  const onPointer = (event: PointerEvent) => {
    const drawing = place.current?.querySelector("svg");
    if (drawing == null || (event.type === "pointermove" && event.buttons === 0)) return;
    const box = drawing.getBoundingClientRect();
    const { left, across } = TIME_AXIS;
    const unit = ((event.clientX - box.left) * drawing.viewBox.baseVal.width) / box.width - left;
    if (unit >= -8 && unit <= across + 8) put((unit / across) * last);
  };
  return (
    <>
      <div
        ref={place}
        class="oscillogram"
        role="slider"
        tabIndex={0}
        aria-label="cursor of the oscillogram, time"
        aria-valuemin={0}
        aria-valuemax={last}
        aria-valuenow={index}
        aria-valuetext={secondsText(result.seconds[index] ?? 0)}
        onKeyDown={onKey}
        onPointerDown={onPointer}
        onPointerMove={onPointer}
      >
        <Drawing text={text} title={title} headLines={1} />
      </div>
      <p class="cursor-words" aria-live="polite">
        {cursorText(now, result, index)}
      </p>
    </>
  );
}
