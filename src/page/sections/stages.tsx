/** What every transistor does: its gain and why, resistances, feedback loops, quiescent currents. */
import { useSignal } from "@preact/signals";
import type { QuiescentCurrents, StageReading, StagesResult } from "../../bench/stages/results.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import { amps, volts } from "../../report/numbers.ts";
import { stagesSvg } from "../../report/stages-svg.ts";
import { LOOP_HEAD, loopRow } from "../../report/stages-table.ts";
import { daggerSentence, gain, resistance, stageSentences } from "../../report/stages-words.ts";
import { conditions, mode, present } from "../compute/live.ts";
import { circuit } from "../compute/netlist.ts";
import { Drawing } from "../controls/drawing.tsx";
import { FiguresTable } from "../controls/figures-table.tsx";
import { Failures, Worked } from "../controls/worked.tsx";
import { useFollowed } from "../long-work/follow.ts";
import type { Section } from "./section.ts";

const HEAD = ["", "works as", "gain", "into it", "out of it", "at rest"];
/** A symbol such as g_m stays as it is. */
const sentence = (text: string) =>
  `${text.charAt(1) === "_" ? text.charAt(0) : text.charAt(0).toUpperCase()}${text.slice(1)}.`;

/** Gain, resistances at the pins, and where it rests; dashes where there are none. */
export function stageCells(
  stage: StageReading,
  rest: { readonly ic_amps: number; readonly vce_volts: number } | undefined,
) {
  const { solved_gain, input_ohms, output_ohms } = stage;
  return [
    stage.configuration,
    solved_gain === undefined ? "–" : gain(solved_gain),
    input_ohms === undefined ? "–" : resistance(input_ohms),
    output_ohms === undefined ? "–" : resistance(output_ohms),
    rest === undefined ? "–" : `${amps(rest.ic_amps)} at ${volts(rest.vce_volts)}`,
  ];
}

function StageRow({ stage, type }: { readonly stage: StageReading; readonly type: string }) {
  const open = useSignal(false);
  const id = `stage-${stage.transistor}`;
  const rest = present.value?.chart.transistors[stage.transistor];
  return (
    <>
      <tr>
        <th scope="row">
          <button
            type="button"
            class="figure"
            aria-expanded={open.value}
            aria-controls={id}
            onClick={() => {
              open.value = !open.value;
            }}
          >
            {stage.transistor}
          </button>{" "}
          <span class="faint">{type}</span>
        </th>
        {stageCells(stage, rest).map((text, k) => (
          <td key={k}>{text}</td>
        ))}
      </tr>
      <tr id={id} class="why" hidden={!open.value}>
        <td colSpan={HEAD.length}>
          {stageSentences(stage).map((text) => (
            <p key={text}>{sentence(text)}</p>
          ))}
        </td>
      </tr>
    </>
  );
}

function StageTable({ result, now }: { readonly result: StagesResult; readonly now: Circuit }) {
  const typeOf = (name: string) => now.parts.find((part) => part.name === name)?.type ?? "";
  return (
    <div class="wide">
      <table class="summary stages">
        <caption class="unseen">Every transistor: what it works as, gain and resistances at 1 kHz</caption>
        <thead>
          <tr>
            {HEAD.map((text) =>
              text === "" ? (
                <td key={text} />
              ) : (
                <th key={text} scope="col">
                  {text}
                </th>
              ),
            )}
          </tr>
        </thead>
        <tbody>
          {result.stages.map((stage) => (
            <StageRow key={stage.transistor} stage={stage} type={typeOf(stage.transistor)} />
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Pairs({ result, now }: { readonly result: StagesResult; readonly now: Circuit }) {
  const { push_pull: pairs } = result;
  if (pairs.length === 0) return null;
  const names = pairs.map(({ pair }) => pair.join(" and ")).join("; ");
  const points = ({ ambient_celsius, hfe_share, vbe_shift_volts }: QuiescentCurrents) => [
    ...ambient_celsius,
    ...hfe_share,
    ...vbe_shift_volts,
  ];
  const title = `Quiescent currents of ${names} against temperature and mismatch`;
  return (
    <details>
      <summary>{title}</summary>
      <Drawing text={stagesSvg({ ...now, title: "" }, [result], [])} title={title} />
      <p class="faint">{daggerSentence(pairs.flatMap(points)).replace("†", "×")}</p>
    </details>
  );
}

function Found({ result }: { readonly result: StagesResult }) {
  const now = circuit.value;
  if (now === undefined) return null;
  return (
    <>
      <StageTable result={result} now={now} />
      <p class="faint">
        Gains and resistances at 1 kHz, in {result.mode}
        <span class="for-the-hand">; press on a transistor for the reckoning by hand</span>.
      </p>
      {result.loops.length === 0 ? null : (
        <FiguresTable
          caption="Feedback loops: loop gain and phase margin"
          head={["feedback loop", ...LOOP_HEAD.slice(1)]}
          rows={result.loops.map(loopRow)}
        />
      )}
      <Pairs result={result} now={now} />
    </>
  );
}

function Stages() {
  const state = useFollowed("stages", "stages", () =>
    circuit.value === undefined || !circuit.value.parts.some(({ kind }) => kind === "transistor")
      ? undefined
      : { circuit: circuit.value, conditions: conditions.value, mode: mode.value },
  );
  if (circuit.value?.parts.every(({ kind }) => kind !== "transistor")) {
    return <p class="faint">The netlist has no transistor.</p>;
  }
  return (
    <Worked state={state.value} doing="looking at every stage">
      {({ found, failures }) => (
        <>
          <Failures failures={failures} />
          {found === undefined ? null : <Found result={found} />}
        </>
      )}
    </Worked>
  );
}

export const stages: Section = { id: "stages", title: "Stages", Content: Stages };
