/** The Bode plot. While a control is held nothing changes in it but the shapes of the curves. */
import { useComputed } from "@preact/signals";
import { area, line } from "d3-shape";
import { LABEL_SIZE, type Layout, LEFT, type Panel } from "../../report/bode-layout.ts";
import type { Curve, CurvePoint } from "../../report/curves.ts";
import { hertz, hertzMark } from "../../report/numbers.ts";
import { HERTZ } from "../compute/solution.ts";
import { CursorLine, onKey, onPointer } from "./response-cursor.tsx";
import { Grid, Names } from "./response-frame.tsx";
import { dashOf, inkOf, valueIn } from "./response-ink.ts";
import { cursor, curves, layout, measured, namedCurves, target } from "./response-model.ts";

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

export function Plot() {
  const now = layout.value;
  const { gain, phase, frequencies, x, across, width, height } = now;
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
      <svg viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
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
