/** The Bode plot. While a control is held nothing changes in it but the shapes of the curves. */
import { useComputed } from "@preact/signals";
import { area, line } from "d3-shape";
import {
  LABEL_SIZE,
  type Layout,
  LEADER,
  LEFT,
  type Panel,
  shortLabel,
  WIDTH,
} from "../../report/bode-layout.ts";
import { type Curve, type CurvePoint, offsetText, silent } from "../../report/curves.ts";
import { decimal, hertz, hertzMark } from "../../report/numbers.ts";
import { spreadOut } from "../../report/spread-out.ts";
import { responses, solution } from "../compute/live.ts";
import { HERTZ } from "../compute/solution.ts";
import { cursor, curves, layout, measured, namedCurves, target } from "./response-model.ts";

/** Five inks that differ for every kind of sight; none of them is the accent. */
const INKS = 5;
const inkOf = (index: number): string => `ink-${index % INKS}`;
/** By mode: playback solid, recording dashed. */
const DASHES = [undefined, "7 4", "1.5 3.5", "10 3 1.5 3"];

function dashOf(index: number): string | undefined {
  const modes = solution.value?.modes.map(({ mode }) => mode) ?? [];
  return DASHES[modes.indexOf(responses.value[index]?.mode ?? "") % DASHES.length];
}

const valueIn = (panel: Panel) => (point: CurvePoint) => (panel.name === "Gain" ? point.gain : point.phase);

function shape({ points }: Curve, panel: Panel, { x }: Layout): string {
  const value = valueIn(panel);
  return (
    line<CurvePoint>()
      .digits(1)
      .defined((point) => value(point) !== undefined)
      .x((point) => x(point.hertz))
      .y((point) => panel.y(value(point)!))(points) ?? ""
  );
}

type Which = "gain" | "phase";

function CurvePath({ which, index }: { which: Which; index: number }) {
  const d = useComputed(() => {
    const curve = curves.value.curves[index];
    return curve === undefined ? "" : shape(curve, layout.value[which], layout.value);
  });
  return <path class={`curve ${inkOf(index)}`} stroke-dasharray={dashOf(index)} d={d} />;
}

function Target() {
  const edge = useComputed(() => {
    const { gain, x } = layout.value;
    const points = target.value?.points ?? [];
    return (
      line<{ hertz: number; gain: number }>()
        .digits(1)
        .x((p) => x(p.hertz))
        .y((p) => gain.y(p.gain))(points) ?? ""
    );
  });
  const field = useComputed(() => {
    const { gain, x } = layout.value;
    return (
      area<{ hertz: number; least: number; greatest: number }>()
        .digits(1)
        .x((p) => x(p.hertz))
        .y0((p) => gain.y(p.least))
        .y1((p) => gain.y(p.greatest))(target.value?.field ?? []) ?? ""
    );
  });
  return (
    <>
      <path class="field" d={field} />
      <path class="target" d={edge} />
    </>
  );
}

function MeasuredCurve() {
  const points = measured.value;
  if (points === undefined) return null;
  const { gain, x } = layout.value;
  const d =
    line<{ hertz: number; gain: number }>()
      .digits(1)
      .x((p) => x(p.hertz))
      .y((p) => gain.y(p.gain))(points) ?? "";
  return (
    <>
      <path class="measured" d={d} />
      {points.map((point) => (
        <circle
          key={point.hertz}
          class="measured-point"
          cx={x(point.hertz)}
          cy={gain.y(point.gain)}
          r={2.6}
        />
      ))}
    </>
  );
}

/** Rules and what is written beside them. */
function Grid({ panel, layout: { across, x, frequencies } }: { panel: Panel; layout: Layout }) {
  const labelled = new Set(frequencies.labels);
  const end = panel.top + panel.height;
  return (
    <g class="grid">
      <text class="axis-name" x={LEFT} y={panel.top - 9} font-size={LABEL_SIZE}>
        {panel.name}, {panel.unit}
      </text>
      {frequencies.marks.map((at) => (
        <line
          key={at}
          class={labelled.has(at) ? "strong" : ""}
          x1={LEFT + x(at)}
          x2={LEFT + x(at)}
          y1={panel.top}
          y2={end}
        />
      ))}
      {panel.axis.ticks.map((tick) => {
        const y = panel.top + panel.y(tick);
        const strong = tick === panel.axis.low || tick === panel.axis.high || tick === 0;
        return (
          <g key={tick}>
            <line class={strong ? "strong" : ""} x1={LEFT} x2={LEFT + across} y1={y} y2={y} />
            <text x={LEFT - 7} y={y + 4} text-anchor="end" font-size={LABEL_SIZE}>
              {decimal(tick, 0)}
            </text>
          </g>
        );
      })}
    </g>
  );
}

/** The name of each curve at its right end. */
function Names({ panel, layout: { across } }: { panel: Panel; layout: Layout }) {
  const value = valueIn(panel);
  const shown = namedCurves.value.flatMap((curve, index) => {
    const last = curve.points.findLast((point) => value(point) !== undefined);
    if (last === undefined || silent(curve)) return [];
    return [{ curve, index, end: Math.min(panel.height, Math.max(0, panel.y(value(last)!))) }];
  });
  const twoLines = panel.name === "Gain" && shown.some(({ curve }) => offsetText(curve) !== "");
  const places = spreadOut(
    shown.map(({ end }) => end),
    (twoLines ? 2.4 : 1.3) * LABEL_SIZE,
    4,
    panel.height - (twoLines ? 20 : 6),
  );
  const right = LEFT + across;
  return (
    <g>
      {shown.map(({ curve, index, end }, k) => {
        const [from, to] = [panel.top + end, panel.top + places[k]!];
        return (
          <g key={curve.label}>
            <path
              class={`thread ${inkOf(index)}`}
              d={`M${right},${from.toFixed(1)}L${right + 6},${to.toFixed(1)}`}
            />
            <path
              class={`curve ${inkOf(index)}`}
              stroke-dasharray={dashOf(index)}
              d={`M${right + 6},${to.toFixed(1)}H${right + LEADER - 4}`}
            />
            <text x={right + LEADER} y={to + 4} font-size={LABEL_SIZE}>
              {shortLabel(curve)}
            </text>
            {twoLines ? (
              <text class="faint" x={right + LEADER} y={to + 15} font-size={0.9 * LABEL_SIZE}>
                {offsetText(curve)}
              </text>
            ) : null}
          </g>
        );
      })}
    </g>
  );
}

function PanelCurves({ which, layout: { across, [which]: panel } }: { which: Which; layout: Layout }) {
  return (
    <svg
      aria-hidden="true"
      x={LEFT - 3}
      y={panel.top - 1}
      width={across + 6}
      height={panel.height + 2}
      overflow="hidden"
    >
      <g transform="translate(3 1)">
        {which === "gain" ? <Target /> : null}
        {namedCurves.value.map((_, index) => (
          <CurvePath key={index} which={which} index={index} />
        ))}
        {which === "gain" ? <MeasuredCurve /> : null}
      </g>
    </svg>
  );
}

/** The cursor's line, with a ring on every curve. */
function CursorLine() {
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

function onKey(event: KeyboardEvent): void {
  const step = STEPS[event.key];
  if (step === undefined) return;
  event.preventDefault();
  put(cursor.value + step * (event.shiftKey ? 5 : 1));
}

/** The frequency under the pointer. */
function onPointer(event: PointerEvent): void {
  if (event.pointerType !== "mouse" && event.type === "pointermove" && event.buttons === 0) return;
  const drawing = event.currentTarget as HTMLElement;
  const box = drawing.getBoundingClientRect();
  const unit = ((event.clientX - box.left) * WIDTH) / box.width - LEFT;
  const { across } = layout.value;
  if (unit < -8 || unit > across + 8) return;
  put((unit / across) * (HERTZ.length - 1));
}

export function Plot() {
  const now = layout.value;
  const { gain, phase, frequencies, x, across, height } = now;
  const foot = phase.top + phase.height;
  return (
    <div
      class="bode"
      role="slider"
      tabIndex={0}
      aria-label="cursor of the response plot, frequency"
      aria-valuemin={20}
      aria-valuemax={20000}
      aria-valuenow={useComputed(() => Math.round(HERTZ[cursor.value]!))}
      aria-valuetext={useComputed(() => hertz(Number(HERTZ[cursor.value]!.toPrecision(3))))}
      onKeyDown={onKey}
      onPointerDown={onPointer}
      onPointerMove={onPointer}
    >
      <svg viewBox={`0 0 ${WIDTH} ${height}`} aria-hidden="true">
        <Grid panel={gain} layout={now} />
        <Grid panel={phase} layout={now} />
        <PanelCurves which="gain" layout={now} />
        <PanelCurves which="phase" layout={now} />
        <Names panel={gain} layout={now} />
        <Names panel={phase} layout={now} />
        {frequencies.labels.map((at) => (
          <text key={at} x={LEFT + x(at)} y={foot + 16} text-anchor="middle" font-size={LABEL_SIZE}>
            {hertzMark(at)}
          </text>
        ))}
        <text
          class="axis-name"
          x={LEFT + across / 2}
          y={foot + 34}
          text-anchor="middle"
          font-size={LABEL_SIZE}
        >
          Frequency, Hz
        </text>
        <CursorLine />
      </svg>
    </div>
  );
}
