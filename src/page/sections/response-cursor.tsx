/** The cursor of the response plot: its line, and how keys and pointer move it. */
import { useComputed } from "@preact/signals";
import { LEFT } from "../../report/bode-layout.ts";
import { HERTZ } from "../compute/solution.ts";
import { inkOf } from "./response-ink.ts";
import { cursor, curves, layout, namedCurves } from "./response-model.ts";

/** The cursor's line, with a ring on every curve. */
export function CursorLine() {
  const at = useComputed(() => LEFT + layout.value.x(HERTZ[cursor.value]!));
  const { gain, phase } = layout.value;
  return (
    <g class="cursor">
      <line x1={at} x2={at} y1={gain.top} y2={phase.top + phase.height} />
      {namedCurves.value.map((_, index) => (
        <CursorRing key={index} index={index} />
      ))}
    </g>
  );
}

function CursorRing({ index }: { index: number }) {
  const cx = useComputed(() => LEFT + layout.value.x(HERTZ[cursor.value]!));
  const cy = useComputed(() => {
    const { gain } = layout.value;
    const value = curves.value.curves[index]?.points[cursor.value]?.gain ?? 0;
    return gain.top + Math.min(gain.height, Math.max(0, gain.y(value)));
  });
  return <circle class={inkOf(index)} cx={cx} cy={cy} r={3.4} />;
}

/** Steps of the arrow keys: 1/20 octave; of the page keys: an octave. */
const OCTAVE = 20;
const STEPS: Readonly<Record<string, number>> = {
  ArrowLeft: -1,
  ArrowDown: -1,
  ArrowRight: 1,
  ArrowUp: 1,
  PageDown: -OCTAVE,
  PageUp: OCTAVE,
  Home: -HERTZ.length,
  End: HERTZ.length,
};

const put = (index: number): void => {
  cursor.value = Math.min(HERTZ.length - 1, Math.max(0, Math.round(index)));
};

export function onKey(event: KeyboardEvent): void {
  const step = STEPS[event.key];
  if (step === undefined) return;
  event.preventDefault();
  put(cursor.value + step * (event.shiftKey ? 5 : 1));
}

/** The frequency under the pointer. */
export function onPointer(event: PointerEvent): void {
  if (event.pointerType !== "mouse" && event.type === "pointermove" && event.buttons === 0) return;
  const drawing = event.currentTarget as HTMLElement;
  const box = drawing.getBoundingClientRect();
  const { across, width } = layout.value;
  const unit = ((event.clientX - box.left) * width) / box.width - LEFT;
  if (unit < -8 || unit > across + 8) return;
  put((unit / across) * (HERTZ.length - 1));
}
