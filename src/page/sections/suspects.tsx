/** Which fault explains the readings, and where to measure next; live as they are typed. */
import { useComputed } from "@preact/signals";
import type { ProposedProbe, Suspect, SuspectsResult } from "../../bench/suspects/results.ts";
import { bitsText, faultText, percentText, readingText } from "../../report/suspects-words.ts";
import { figuresOf } from "../compute/figures.ts";
import { mode, present } from "../compute/live.ts";
import { circuit } from "../compute/netlist.ts";
import { suspected } from "../compute/suspected.ts";
import { taken } from "../compute/taken.ts";
import { Progress } from "../controls/worked.tsx";
import { dispatch } from "../state/store.ts";
import { pointWords } from "../words.ts";
import { OtherReading } from "./other-reading.tsx";
import { focusReading } from "./reading-field.tsx";
import type { Section } from "./section.ts";
import {
  asShown,
  groupText,
  placeText,
  rangeText,
  readingName,
  spokenText,
  takenText,
  verdictText,
} from "./suspects-words.ts";

/** Suspects whose predictions stand beside the readings, and those whose check is spelled out. */
const IN_FULL = 3;

const sentence = (text: string) => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;

function Problems() {
  const { problems } = taken.value;
  return (
    <ul class="problems" role="alert" hidden={problems.length === 0}>
      {problems.map((each) => (
        <li key={each} class="look">
          {each}
        </li>
      ))}
    </ul>
  );
}

function Predictions({ result }: { result: SuspectsResult }) {
  const best = result.suspects.slice(0, IN_FULL);
  return (
    <table class="summary predictions">
      <caption class="unseen">Readings beside what each suspect would make of them</caption>
      <thead>
        <tr>
          <th scope="col">reading</th>
          <th scope="col">taken</th>
          <th scope="col">healthy</th>
          {best.map((_, k) => (
            <th key={k} scope="col">
              suspect {k + 1}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {result.readings.map((reading, n) => (
          <tr key={`${reading.mode} ${reading.point}`}>
            <th scope="row">{readingName(reading)}</th>
            <td class={reading.outside ? "look" : ""}>{takenText(reading)}</td>
            <td>{rangeText(reading)}</td>
            {best.map(({ predicted, slip }, k) => (
              <td key={k}>
                {readingText(asShown(reading, predicted[n] ?? 0), reading.unit)}
                {slip === n ? <span class="look"> a slip?</span> : null}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function SuspectItem({ suspect, full }: { suspect: Suspect; full: boolean }) {
  const now = circuit.value;
  const group = groupText(suspect);
  return (
    <li>
      <p class="fault">
        <b class="share">{percentText(suspect.probability)}</b> {faultText(suspect)}
      </p>
      {group === "" ? null : <p>{group}</p>}
      {full ? <p>{sentence(suspect.check)}</p> : null}
      {now === undefined ? null : <p class="faint">{placeText(suspect.part, now)}</p>}
    </li>
  );
}

/** To the field of a point, in its mode. */
export function goTo({ mode: name, point }: Pick<ProposedProbe, "mode" | "point">): void {
  if (name !== mode.peek()) dispatch({ kind: "mode", mode: name });
  // the chart of the other mode is on the page a moment later
  setTimeout(() => {
    const [now, solved] = [circuit.peek(), present.peek()];
    if (now !== undefined && solved !== undefined) focusReading(point, figuresOf(now, solved.chart));
  }, 60);
}

function Next({ result }: { result: SuspectsResult }) {
  if (result.next.length === 0) {
    return <p>No further voltage would tell the suspects apart: check them as said above.</p>;
  }
  return (
    <p class="probes">
      To measure next, by what each tells:{" "}
      {result.next.map((probe, k) => (
        <span key={`${probe.mode} ${probe.point}`}>
          {k === 0 ? "" : " · "}
          <button type="button" class="word" onClick={() => goTo(probe)}>
            {pointWords(probe.point)}, in {probe.mode}
          </button>{" "}
          {bitsText(probe.bits)}
        </span>
      ))}
    </p>
  );
}

function Answer({ result }: { result: SuspectsResult }) {
  const cautions = [...new Set(result.suspects.slice(0, IN_FULL).flatMap((each) => each.cautions))];
  return (
    <>
      <p>{verdictText(result, taken.value.problems.length)}</p>
      <Predictions result={result} />
      <ol class="suspects">
        {result.suspects.map((suspect, k) => (
          <SuspectItem key={`${suspect.part} ${suspect.fault}`} suspect={suspect} full={k < IN_FULL} />
        ))}
      </ol>
      <Next result={result} />
      {cautions.length === 0 ? null : <p>Caution: {cautions.join("; ")}.</p>}
    </>
  );
}

function Suspects() {
  const state = useComputed(suspected);
  const { value, stale, failure } = state.value;
  const result = value?.result;
  const none = taken.value.readings.length === 0;
  return (
    <>
      <Problems />
      {none ? (
        <p class="faint no-readings">
          Type what your meter shows in the voltages above: from the first reading that is off, the parts that
          may be at fault are ranked here.
        </p>
      ) : null}
      <Progress state={state.value} doing="looking at every fault" />
      {failure === undefined ? null : <p class="look">{failure}</p>}
      {value?.failure === undefined ? null : <p class="look">{value.failure.message}</p>}
      <p class="unseen" role="status" aria-live="polite">
        {result === undefined || stale ? "" : spokenText(result)}
      </p>
      {result === undefined ? null : (
        <div class={stale ? "stale" : ""}>
          <Answer result={result} />
        </div>
      )}
      <OtherReading />
    </>
  );
}

export const suspects: Section = { id: "suspects", title: "Suspects", Content: Suspects };
