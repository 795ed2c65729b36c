/** Rules, scales and names of the response plot. */
import { LABEL_SIZE, type Layout, LEADER, LEFT, type Panel, shortLabel } from "../../report/bode-layout.ts";
import { offsetText, silent } from "../../report/curves.ts";
import { decimal } from "../../report/numbers.ts";
import { spreadOut } from "../../report/spread-out.ts";
import { dashOf, inkOf, valueIn } from "./response-ink.ts";
import { namedCurves } from "./response-model.ts";

/** Rules and what is written beside them. */
export function Grid({ panel, layout: { across, x, frequencies } }: { panel: Panel; layout: Layout }) {
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
export function Names({ panel, layout: { across } }: { panel: Panel; layout: Layout }) {
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
