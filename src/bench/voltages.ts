import type { Circuit, Part } from "../circuit/circuit.ts";
import { ZERO_CELSIUS } from "../devices/constants.ts";
import { currentInto } from "../engine/currents.ts";
import type { SolvedPoint } from "../engine/operating-point.ts";
import { kindOf } from "../parts/index.ts";
import type { Port } from "../parts/kind.ts";
import type { Conditions, Meter } from "./conditions.ts";
import { meterReadings } from "./meter.ts";
import { motorReadings } from "./motors.ts";
import type { NetVoltage, PartReading, TransistorReading, VoltageChart } from "./results.ts";
import { type Answer, inEachMode, type SolvedMode } from "./run.ts";
import { transistorReading } from "./transistor-reading.ts";

/**
 * The voltage chart of every mode: nets, transistors and parts at the operating point. With a meter,
 * what it would show at each net, loading the circuit as it does.
 */
export function voltages(circuit: Circuit, conditions: Conditions = {}, meter?: Meter): Answer<VoltageChart> {
  return inEachMode(circuit, conditions, (solved) => ({ results: [chartOf(solved, meter)], failures: [] }));
}

/** The voltage chart of a solved mode. */
export function chartOf(solved: SolvedMode, meter?: Meter): VoltageChart {
  const { mode, circuit, point } = solved;
  const readings = meter === undefined ? undefined : meterReadings(solved, meter);
  return {
    mode: mode.name,
    ambient_celsius: point.network.ambientKelvin - ZERO_CELSIUS,
    residual_amps: point.residual,
    nets: Object.fromEntries(netVoltages(circuit, point, readings)),
    transistors: Object.fromEntries(transistorReadings(circuit, point)),
    parts: Object.fromEntries(partReadings(circuit, point)),
    ...motorReadings(point),
  };
}

/** Voltage of a net at the operating point. */
export const netVolts = ({ network, state }: SolvedPoint, net: number): number =>
  state[network.unknowns.net[net] ?? 0] ?? 0;

function netVoltages(
  circuit: Circuit,
  point: SolvedPoint,
  readings: readonly (number | undefined)[] | undefined,
): [string, NetVoltage][] {
  const free = new Set(point.network.freeAtDc.nets);
  return circuit.nets.map((net, k) => {
    const reading = readings?.[k];
    return [
      net.name,
      {
        volts: netVolts(point, k),
        points: net.points,
        ...(reading !== undefined && { reading_volts: reading }),
        ...(free.has(k) && { floating: true }),
      },
    ];
  });
}

function transistorReadings(circuit: Circuit, point: SolvedPoint): [string, TransistorReading][] {
  return circuit.parts.flatMap((part, k) =>
    part.kind === "transistor"
      ? [[part.name, transistorReading(point, k)] as [string, TransistorReading]]
      : [],
  );
}

function partReadings(circuit: Circuit, point: SolvedPoint): [string, PartReading][] {
  return circuit.parts.flatMap((part, k) => (part.kind === "transistor" ? [] : readingsOf(part, k, point)));
}

/** A part's own line (first pin to last), and one for each winding or pole if it has several. */
function readingsOf(part: Part, index: number, point: SolvedPoint): [string, PartReading][] {
  const amps = (pin: number) => currentInto(point.currents, index, pin);
  const pinVolts = part.pins.map(({ net }) => netVolts(point, net));
  const watts = pinVolts.reduce((sum, volts, pin) => sum + volts * amps(pin), 0);
  const named = kindOf(part).ports?.(part) ?? [];
  const whole: Port = {
    name: part.name,
    from: named[0]?.from ?? 0,
    to: named[0]?.to ?? part.pins.length - 1,
  };
  const across = ({ from, to }: Port) => (pinVolts[from] ?? 0) - (pinVolts[to] ?? 0);
  return [
    [part.name, { volts: across(whole), amps: amps(whole.from), watts }],
    ...named.map((port): [string, PartReading] => {
      const current = amps(port.from);
      return [port.name, { volts: across(port), amps: current, watts: across(port) * current }];
    }),
  ];
}
