/** Speed of a governed motor against battery and load, when it is asked for. */
import { signal } from "@preact/signals";
import type { RegulationCurve } from "../../bench/regulation/results.ts";
import type { Answer } from "../../bench/run.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import { conditionPhrases } from "../../report/condition-phrases.ts";
import { regulationCsv } from "../../report/regulation-csv.ts";
import { regulationSvg } from "../../report/regulation-svg.ts";
import { REGULATION_HEAD, regulationRow } from "../../report/regulation-table.ts";
import { curveName, holdText, limitText, unitText } from "../../report/regulation-words.ts";
import { conditions, mode } from "../compute/live.ts";
import { Drawing } from "../controls/drawing.tsx";
import { FiguresTable } from "../controls/figures-table.tsx";
import { Failures } from "../controls/worked.tsx";
import { onDemand } from "../long-work/on-demand.ts";
import { POINTS } from "../long-work/regulation.ts";
import { Downloads } from "./downloads.tsx";
import { RunLine } from "./run-line.tsx";

interface Run {
  readonly circuit: Circuit;
  readonly conditions: object;
  readonly mode: string;
  readonly output: Answer<RegulationCurve>;
}

const lastRun = signal<Run | undefined>(undefined);
const work = onDemand("regulation", "regulation");

export const hasGovernor = ({ parts }: Circuit): boolean => parts.some(({ kind }) => kind === "governor");

function run(now: Circuit): void {
  const asked = { circuit: now, conditions: conditions.peek(), mode: mode.peek() };
  work.run(asked, (output) => {
    lastRun.value = { ...asked, output };
  });
}

function Curve({ curve }: { readonly curve: RegulationCurve }) {
  return (
    <>
      <p>
        {curveName(curve)}. {holdText(curve)} {limitText(curve)}
      </p>
      {curve.points.length < POINTS ? (
        <p class="look">Broken off: the rest of this curve is missing.</p>
      ) : null}
      <FiguresTable
        caption={curveName(curve)}
        head={[unitText(curve.unit), ...REGULATION_HEAD]}
        rows={curve.points.map((point) => regulationRow(point, curve.unit))}
      />
    </>
  );
}

const SIGNS = "● held, ○ too slow, × runs away; the bar is the swing over a period";

function Found({ done: { circuit: now, conditions: asked, mode: name, output } }: { readonly done: Run }) {
  const { failures, results } = output;
  const curves = results.filter(({ points }) => points.length > 0);
  return (
    <>
      <Failures failures={failures} />
      {results.length + failures.length > 0 ? null : (
        <p>In {name} nothing is regulated: the mode holds the governor open or closed.</p>
      )}
      {curves.length === 0 ? null : (
        <figure>
          <Drawing
            text={regulationSvg({ ...now, title: "" }, curves, [])}
            title={`Speed against battery and load in ${name}`}
            headLines={2}
          />
          <figcaption>
            <p class="faint">{SIGNS}</p>
            {curves.map((curve) => (
              <Curve key={curveName(curve)} curve={curve} />
            ))}
          </figcaption>
          <Downloads
            what="regulation"
            files={[
              {
                ending: "-regulation.svg",
                text: () => regulationSvg(now, curves, conditionPhrases(now, asked, curves)),
              },
              { ending: "-regulation.csv", text: () => regulationCsv(curves) },
            ]}
          />
        </figure>
      )}
    </>
  );
}

export function Regulation({ now }: { readonly now: Circuit }) {
  const done = lastRun.value;
  const old =
    done !== undefined &&
    (done.circuit !== now || done.conditions !== conditions.value || done.mode !== mode.value);
  return (
    <div class="regulation">
      <RunLine
        name="speed against battery and load"
        state={work.state.value}
        onRun={() => run(now)}
        onCancel={work.cancel}
      />
      {done === undefined ? null : (
        <div class={old ? "earlier" : ""}>
          {old ? <p>This is of an earlier state; run it again for the present one.</p> : null}
          <Found done={done} />
        </div>
      )}
    </div>
  );
}
