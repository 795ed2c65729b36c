/** The sheet solved at display rate: one solution a frame, of the newest settings. */
import { batch, computed, effect, type ReadonlySignal, signal } from "@preact/signals";
import type { Conditions } from "../../bench/conditions.ts";
import type { PathResponse, VoltageChart } from "../../bench/results.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import { conditionsOf, presentMode } from "../state/conditions.ts";
import type { Settings } from "../state/document.ts";
import { held } from "../state/hand.ts";
import { readMeter } from "../state/meter.ts";
import { settings } from "../state/store.ts";
import { circuit, errors } from "./netlist.ts";
import { type ModeSolution, type Solution, SolutionKeeper } from "./solution.ts";

const found = signal<Solution | undefined>(undefined);
const atRest = signal<Solution | undefined>(undefined);

/** Everything solved, as the controls stand now. */
export const solution: ReadonlySignal<Solution | undefined> = found;
/** The same as it was when no control was last held: what "old" is in old → new. */
export const settled: ReadonlySignal<Solution | undefined> = atRest;

/** Name of the mode looked at. */
export const mode = computed(() =>
  circuit.value === undefined ? "" : presentMode(circuit.value, settings.value).name,
);

const ofMode = (from: Solution | undefined, name: string): ModeSolution | undefined =>
  from?.modes.find((each) => each.mode === name);

/** The mode looked at, solved. */
export const present = computed(() => ofMode(found.value, mode.value));
export const chart: ReadonlySignal<VoltageChart | undefined> = computed(() => present.value?.chart);
export const settledChart = computed(() => ofMode(atRest.value, mode.value)?.chart);
export const responses: ReadonlySignal<readonly PathResponse[]> = computed(
  () => found.value?.modes.flatMap((each) => each.responses) ?? [],
);
export const failures = computed(() => found.value?.failures ?? []);

/** What is shown is not what the netlist or the settings say now: it is greyed. */
export const stale = computed(() => errors.value.length > 0 || failures.value.length > 0);

let before: Conditions = {};

/** The question that everything else asks about: the same object as long as it says the same. */
export const conditions = computed((): Conditions => {
  const next = circuit.value === undefined ? {} : conditionsOf(circuit.value, settings.value);
  if (JSON.stringify(next) !== JSON.stringify(before)) before = next;
  return before;
});
export const meter = computed(() => {
  const read = readMeter(settings.value.meter);
  return read === undefined || "message" in read ? undefined : read;
});

let keeper: SolutionKeeper | undefined;

function keeperFor(now: Circuit): SolutionKeeper {
  if (keeper?.circuit !== now) keeper = new SolutionKeeper(now);
  return keeper;
}

/** What the present solution is of. */
let solvedFor: { circuit: Circuit; settings: Settings; warm: boolean } | undefined;

/** Solves what is asked now, if it is not solved already. */
export function solveNow(): void {
  const now = circuit.peek();
  if (now === undefined) return;
  const [asked, warm] = [settings.peek(), held.peek() !== undefined];
  const same = solvedFor?.circuit === now && solvedFor.settings === asked;
  // what a held control has left is solved from rest once it is let go
  if (same && (warm || !solvedFor!.warm)) return;
  const read = meter.peek();
  const next = keeperFor(now).solve({
    conditions: conditions.peek(),
    ...(read !== undefined && { meter: read }),
    meteredMode: mode.peek(),
    warm,
  });
  solvedFor = { circuit: now, settings: asked, warm };
  batch(() => {
    found.value = next;
    if (!warm) atRest.value = next;
  });
}

/** Calls `act` before the next picture; soon, where nobody looks. */
function beforePaint(act: () => void): void {
  if (document.visibilityState === "hidden") setTimeout(act, 50);
  else requestAnimationFrame(act);
}

/** From here on whatever changes is solved, once a frame. Solves what is there at once. */
export function startSolving(): void {
  let waiting = false;
  solveNow();
  effect(() => {
    void [circuit.value, settings.value, held.value];
    if (waiting) return;
    waiting = true;
    beforePaint(() => {
      waiting = false;
      solveNow();
    });
  });
}
