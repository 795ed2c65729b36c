import type { Circuit, GivenVoltage } from "../circuit/circuit.ts";
import { ZERO_CELSIUS } from "../devices/constants.ts";
import type { Conditions } from "./conditions.ts";
import { type Answer, inEachMode, type SolvedMode } from "./run.ts";
import { aged } from "./spread/aged.ts";
import { causesOf, type Sensitivities, sensitivities } from "./spread/causes.ts";
import { Observer } from "./spread/observer.ts";
import { type Band, bandOf } from "./spread/quantiles.ts";
import type { CausedBand, GivenInBand, NetSpread, SpreadChart } from "./spread/results.ts";
import { Specimens } from "./spread/specimen.ts";
import { runTrials, type Trials } from "./spread/trials.ts";
import { exactParts, type Range, type Ranges, variablesOf } from "./spread/variables.ts";

export interface SpreadConditions extends Conditions, Ranges {
  /** How many specimens. */
  readonly trials: number;
  /** The same seed gives the same specimens on every machine. */
  readonly seed: number;
  /** Electrolytics and carbon resistors as they are after decades. */
  readonly aged?: boolean;
  /** False: the bands alone, without what makes them. */
  readonly causes?: boolean;
  /** Told how many trials of a mode are done. */
  readonly progress?: (mode: string, done: number) => void;
}

const middle = ({ from, to }: Range): number => (from + to) / 2;

/**
 * What is to be expected of many specimens of the circuit: the 2.5 %, 50 % and 97.5 % points of every net,
 * collector current and gain at 1 kHz, over the tolerances of the parts, the samples of the transistors, and
 * the ranges given. Every specimen is solved in full; the same specimens are looked at in every mode.
 */
export function spread(circuit: Circuit, conditions: SpreadConditions): Answer<SpreadChart> {
  const { ambient, batteries = {} } = conditions;
  const centred = {
    ...conditions,
    set: [
      ...(conditions.set ?? []),
      ...Object.entries(batteries).map(([part, range]) => ({ part, key: "emf", value: middle(range) })),
    ],
    ...(ambient !== undefined && { ambientCelsius: middle(ambient) }),
  };
  return inEachMode(conditions.aged ? aged(circuit) : circuit, centred, (solved) => ({
    results: [chartOf(solved, conditions)],
    failures: [],
  }));
}

function chartOf(solved: SolvedMode, conditions: SpreadConditions): SpreadChart {
  const { circuit, solver, mode } = solved;
  const { trials, seed } = conditions;
  const variables = variablesOf(circuit, conditions);
  const specimens = new Specimens(circuit, variables, solver.network.ambientKelvin - ZERO_CELSIUS);
  const observer = new Observer(solved);
  const centre = { ...solved.point, state: solved.point.state.slice() };
  const sought = conditions.causes === false ? [] : variables;
  const found = sensitivities(solver, specimens, sought, observer, centre);
  const done = runTrials({
    solver,
    specimens,
    observer,
    centre,
    variables,
    mode: mode.name,
    trials,
    seed,
    progress: (count) => conditions.progress?.(mode.name, count),
  });
  return {
    mode: mode.name,
    trials,
    seed,
    aged: conditions.aged ?? false,
    failed: done.failed,
    exact: exactParts(circuit),
    ...sections(solved, observer, found, done),
  };
}

type Sections = Pick<SpreadChart, "nets" | "transistors" | "paths">;

function sections(
  { circuit, mode }: SolvedMode,
  { observed }: Observer,
  found: Sensitivities,
  { values }: Trials,
): Sections {
  if (values[0] !== undefined && values[0].length === 0) return { nets: {}, transistors: {}, paths: {} };
  const { nets, transistors, paths } = observed;
  const band = (k: number): CausedBand => ({ ...bandOf(values[k]!), causes: causesOf(found, k) });
  const given = (list: readonly GivenVoltage[], net: number) =>
    list.findLast((entry) => entry.mode === mode.name && entry.net === net);
  return {
    nets: Object.fromEntries(
      nets.map((net, k) => {
        const printed = given(circuit.printed, net);
        const reading = given(circuit.readings, net);
        return [circuit.nets[net]!.name, netSpread(circuit.nets[net]!.points, band(k), printed, reading)];
      }),
    ),
    transistors: Object.fromEntries(
      transistors.map((part, k) => {
        const { name, type = "" } = circuit.parts[part]!;
        return [name, { type, ic_amps: band(nets.length + k) }];
      }),
    ),
    paths: Object.fromEntries(
      paths.map(({ name, to }, k) => [
        name,
        {
          quantity: "net" in to ? "voltage" : to.quantity,
          gain_db: band(nets.length + transistors.length + k),
        },
      ]),
    ),
  };
}

function netSpread(
  points: readonly string[],
  { least, typical, greatest, causes }: CausedBand,
  printed: GivenVoltage | undefined,
  reading: GivenVoltage | undefined,
): NetSpread {
  const band = { least, typical, greatest };
  return {
    least_volts: least,
    typical_volts: typical,
    greatest_volts: greatest,
    causes,
    points,
    ...(printed !== undefined && { printed: inBand(printed, band) }),
    ...(reading !== undefined && { reading: inBand(reading, band) }),
  };
}

/** A sheet prints two digits, if not more: half a unit of the second is its rounding. */
function rounding(volts: number): number {
  if (volts === 0) return 0;
  return 0.5 * 10 ** (Math.floor(Math.log10(Math.abs(volts)) + 1e-9) - 1);
}

function inBand({ point, volts }: GivenVoltage, { least, greatest }: Band): GivenInBand {
  const by = rounding(volts);
  return { point, volts, inside: volts + by >= least && volts - by <= greatest };
}
