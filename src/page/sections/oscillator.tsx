/** What swings by itself: whether it starts, where it settles, and what the bias trap keeps back. */
import type { Growing, OscillationChart } from "../../bench/oscillation/results.ts";
import { oscillationSvg } from "../../report/oscillation-svg.ts";
import { levelRows, naturalRow, shownOf } from "../../report/oscillation-table.ts";
import { growingSentences, NOTHING_GROWS } from "../../report/oscillation-words.ts";
import { conditions, mode } from "../compute/live.ts";
import { circuit } from "../compute/netlist.ts";
import { Drawing } from "../controls/drawing.tsx";
import { FiguresTable } from "../controls/figures-table.tsx";
import { Failures, Worked } from "../controls/worked.tsx";
import { useFollowed } from "../long-work/follow.ts";
import type { Section } from "./section.ts";

function Swing({ growing }: { readonly growing: Growing }) {
  const { steady } = growing;
  return (
    <>
      {growingSentences(growing).map((text) => (
        <p key={text}>{text}</p>
      ))}
      {steady === undefined || !("nets" in steady) ? null : (
        <FiguresTable
          caption="Levels of the steady swing"
          head={["net", "peak", "mean", "distortion"]}
          rows={levelRows(steady.nets, steady.harmonics)}
        />
      )}
    </>
  );
}

function Natural({ chart }: { readonly chart: OscillationChart }) {
  const now = circuit.value;
  const shown = shownOf(chart);
  const rest = chart.natural.length - shown.length;
  if (now === undefined || shown.length === 0) return null;
  return (
    <details>
      <summary>All natural frequencies, and how fast each dies</summary>
      <Drawing
        text={oscillationSvg({ ...now, title: "" }, [chart], [])}
        headLines={1}
        title={`Natural frequencies in ${chart.mode}`}
      />
      <FiguresTable
        caption="Natural frequencies"
        head={["frequency", "", "Q", "parts"]}
        rows={shown.map(naturalRow)}
      />
      {rest > 0 ? <p class="faint">and {rest} more that die away</p> : null}
    </details>
  );
}

function Found({ chart }: { readonly chart: OscillationChart }) {
  return (
    <>
      {chart.growing.length === 0 ? (
        <p>
          In {chart.mode}: {NOTHING_GROWS.charAt(0).toLowerCase() + NOTHING_GROWS.slice(1)}
        </p>
      ) : (
        chart.growing.map((growing, k) => <Swing key={k} growing={growing} />)
      )}
      <Natural chart={chart} />
    </>
  );
}

function Oscillator() {
  const state = useFollowed("oscillation", "oscillation", () =>
    circuit.value === undefined
      ? undefined
      : { circuit: circuit.value, conditions: conditions.value, mode: mode.value },
  );
  return (
    <Worked state={state.value} doing="looking for what swings">
      {({ found, failures }) => (
        <>
          <Failures failures={failures} />
          {found === undefined ? null : <Found chart={found} />}
        </>
      )}
    </Worked>
  );
}

export const oscillator: Section = { id: "oscillator", title: "Oscillator", Content: Oscillator };
