import {
  LONGEST_RUN,
  SHORTEST_RUN,
  TOLERANCE,
  type Tone,
  usualDuration,
  VALUES,
  type WaveformConditions,
} from "../bench/waveform/conditions.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { type Arguments, listGiven, valueGiven, valuesGiven } from "./arguments.ts";
import { readConditions } from "./conditions.ts";
import { Refusal, readEach, refusalsIn, refuseAll } from "./refusal.ts";
import { checkEnd, checkKeyed, checkOrder, readEvent, time, typed } from "./waveform-events.ts";
import { readShown } from "./waveform-shown.ts";
import { readStart } from "./waveform-start.ts";
import { readTone } from "./waveform-tones.ts";

/** More would fill the memory: values of all traces together, and of one. */
const MOST_VALUES = 5_000_000;
const MOST_OUTPUTS = 1_000_000;

/** What `waveform` is asked for. All that is wrong is told at once, also where one thing rests on another. */
export function readWaveform(given: Arguments, circuit: Circuit): WaveformConditions {
  const wrong: Refusal[] = [];
  const taken = <T>(reader: () => T): T | undefined => {
    try {
      return reader();
    } catch (error) {
      wrong.push(...refusalsIn(error));
      return undefined;
    }
  };
  const conditions = taken(() => readConditions(given, circuit));
  const tones = taken(() => readEach(valuesGiven(given, "tone"), (text) => readTone(text, circuit)));
  const seconds = taken(() => readFor(given, tones ?? []));
  const shown = taken(() => readEach(listGiven(given, "show"), (text) => readShown(text, circuit)));
  const every = taken(() => readEvery(given, seconds, shown?.length || circuit.nets.length));
  // one that is not understood hides nothing of the others
  const events = valuesGiven(given, "at").flatMap((text) => taken(() => [readEvent(text, circuit)]) ?? []);
  taken(() => checkOrder(events));
  if (tones !== undefined) taken(() => checkKeyed(events, tones));
  if (seconds !== undefined) taken(() => checkEnd(events, seconds));
  const disturbed = (tones?.length ?? 0) > 0 || events.some(({ seconds: at }) => at > 0);
  const start = taken(() => readStart(given, circuit, disturbed));
  const tolerance = taken(() => readTolerance(given));
  refuseAll(wrong);
  return {
    ...conditions!,
    seconds: seconds!,
    every: every!,
    start: start!,
    tones: tones!,
    events,
    shown: shown!,
    tolerance: tolerance!,
  };
}

function readFor(given: Arguments, tones: readonly Tone[]): number {
  const text = valueGiven(given, "for");
  if (text === undefined) return usualDuration(tones);
  const seconds = time("for", text);
  if (!(seconds > 0)) throw new Refusal(`--for ${text}: nothing happens in no time`, "for example --for 5s");
  if (seconds < SHORTEST_RUN)
    throw new Refusal(`--for ${text}: nothing in an audio circuit is so fast`, "for example --for 1ms");
  if (seconds > LONGEST_RUN)
    throw new Refusal(`--for ${text}: that is more than ten hours`, "for example --for 5s");
  return seconds;
}

/** Of a run that lasts so many seconds, if that is known. */
function readEvery(given: Arguments, seconds: number | undefined, traces: number): number {
  const text = valueGiven(given, "every");
  if (text === undefined) return (seconds ?? usualDuration([])) / VALUES;
  const every = time("every", text);
  if (seconds === undefined) return every;
  const hint = `for example --every ${typed(seconds / VALUES, 2)}`;
  if (!(every > 0)) throw new Refusal(`--every ${text}: times need a distance`, hint);
  if (every > seconds) throw new Refusal(`--every ${text} is longer than the run of ${typed(seconds)}`, hint);
  const count = seconds / every;
  if (count > MOST_OUTPUTS || count * traces > MOST_VALUES) {
    const millions = ((count * traces) / 1e6).toFixed(0);
    throw new Refusal(
      `--every ${text}: ${millions} million values in ${typed(seconds)} are more than the memory holds`,
      `${hint}, or fewer nets by --show`,
    );
  }
  return every;
}

function readTolerance(given: Arguments): number {
  const text = valueGiven(given, "tolerance");
  if (text === undefined) return TOLERANCE;
  const tolerance = Number(text);
  if (tolerance >= 1e-9 && tolerance <= 1e-2) return tolerance;
  throw new Refusal(`--tolerance ${text}: give a number from 1e-9 to 1e-2`, `${TOLERANCE} is usual`);
}
