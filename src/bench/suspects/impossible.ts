import type { Circuit } from "../../circuit/circuit.ts";
import { inMode, modesOf, withPartStates } from "../../circuit/conditions.ts";
import type { Conditions } from "../conditions.ts";
import type { Reading } from "./looks.ts";

/** Fresh cells give a tenth more than stands on them; and what a junction may push beyond chassis, V. */
const FRESH = 1.12;
const BESIDE = 0.1;

/** Why a reading cannot be right. */
export interface Impossible {
  readonly reading: Reading;
  readonly message: string;
  readonly hint: string;
}

const volts = (value: number) => `${Number(value.toPrecision(3))} V`.replace("-", "−");

/** Readings that no fault of a single part gives: beyond the supply, of the wrong sign, resistances below nothing. */
export function impossibleReadings(
  circuit: Circuit,
  readings: readonly Reading[],
  accuracy: number,
  conditions: Conditions,
): readonly Impossible[] {
  return readings.flatMap((reading): readonly Impossible[] => {
    const { look, value, mode, point } = reading;
    const name = `${mode}: ${point}`;
    if (look.kind === "resistance" && !(value > 0)) {
      return [{ reading, message: `${name}: a resistance is above 0 Ω`, hint: "read again, batteries out" }];
    }
    if (look.kind === "current") return wrongCurrent(circuit, reading);
    if (look.kind === "gain" && !(Math.abs(value) <= MOST_DECIBELS)) {
      return [{ reading, message: `${name}: ${value} dB is no gain`, hint: "write 50 dB" }];
    }
    if (look.kind !== "voltage") return [];
    const { low, high } = suppliesOf(circuit, mode, conditions);
    const either = look.minus !== 0 || reading.unsigned === true;
    const [least, greatest] = either ? [low - high, high - low] : [low, high];
    const slack = BESIDE + accuracy * Math.abs(value);
    const fits = (at: number) => at >= FRESH * least - slack && at <= FRESH * greatest + slack;
    if (fits(value)) return [];
    const supplies = `the supply reaches from ${volts(least)} to ${volts(greatest)}`;
    return fits(-value)
      ? [
          {
            reading,
            message: `${name}: ${volts(value)} has the wrong sign; ${supplies}`,
            hint: `did you mean ${volts(-value)}? Voltages are against chassis`,
          },
        ]
      : [
          {
            reading,
            message: `${name}: ${volts(value)} is beyond the supply; ${supplies}`,
            hint: "was the range of the meter another, or is a decimal point missing?",
          },
        ];
  });
}

/** No path gains or loses more, dB; no dry batteries give more, A. */
const MOST_DECIBELS = 200;
const MOST_AMPS = 20;

const milliamps = (value: number) => `${Number((1e3 * value).toPrecision(3))} mA`.replace("-", "−");

function wrongCurrent({ parts }: Circuit, reading: Reading): readonly Impossible[] {
  const { value, mode, point, unsigned } = reading;
  const batteries = parts.filter(({ kind }) => kind === "battery");
  // with several, one may charge another
  if (value < 0 && !unsigned && batteries.length === 1) {
    const message = `${mode}: ${point}: ${milliamps(value)} has the wrong sign; a battery gives current`;
    return [{ reading, message, hint: `did you mean ${milliamps(-value)}?` }];
  }
  const most = batteries.reduce((sum, { values: { emf = 0, internal = 0 } }) => sum + emf / internal, 0);
  if (Math.abs(value) <= Math.min(1.5 * most, MOST_AMPS)) return [];
  const message = `${mode}: ${point}: ${milliamps(value)} is more than the batteries give`;
  return [{ reading, message, hint: `did you mean ${milliamps(value / 1e3)}?` }];
}

/**
 * Lowest and highest potential that the batteries can give against chassis, V: their pins' potentials, each battery
 * counted at its EMF from whatever pin the others or chassis reach.
 */
function suppliesOf(circuit: Circuit, mode: string, { set = [] }: Conditions): { low: number; high: number } {
  const own = modesOf(circuit).find(({ name }) => name === mode);
  const standing = withPartStates(own === undefined ? circuit : inMode(circuit, own), set);
  const potentials = new Map<number, number>([[0, 0]]);
  const batteries = standing.parts.filter(({ kind }) => kind === "battery");
  for (let round = 0; round < batteries.length; round++) {
    for (const { pins, values } of batteries) {
      const [plus, minus] = [pins[0]!.net, pins[1]!.net];
      const emf = values.emf ?? 0;
      const [above, below] = [potentials.get(plus), potentials.get(minus)];
      if (above !== undefined && below === undefined) potentials.set(minus, above - emf);
      if (below !== undefined && above === undefined) potentials.set(plus, below + emf);
    }
  }
  const adrift = batteries.filter(({ pins }) => pins.every(({ net }) => !potentials.has(net)));
  const loose = adrift.reduce((sum, { values }) => sum + (values.emf ?? 0), 0);
  const known = [...potentials.values()];
  return { low: Math.min(...known) - loose, high: Math.max(...known) + loose };
}
