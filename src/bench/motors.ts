import type { Part } from "../circuit/circuit.ts";
import { currentInto } from "../engine/currents.ts";
import type { SolvedPoint } from "../engine/operating-point.ts";
import { isClosed } from "../parts/governor.ts";
import { isStalled, motorConstant, RPM } from "../parts/motor.ts";
import type { GovernorReading, MotorReading } from "./results.ts";

/** Speed of a motor at a state, rpm; 0 for one that is not there. */
export const speedOf = ({ network }: SolvedPoint, state: Float64Array, motor: string): number =>
  (state[network.unknowns.speed.get(motor) ?? -1] ?? 0) / RPM;

const PLUS = 0;

function motorReading(part: Part, index: number, point: SolvedPoint): MotorReading {
  const amps = currentInto(point.currents, index, PLUS);
  const rpm = speedOf(point, point.state, part.name);
  const [plus = 0, minus = 0] = part.pins.map(({ net }) => point.state[point.network.unknowns.net[net]!]!);
  return {
    rpm,
    amps,
    volts: plus - minus,
    torque_newton_metres: motorConstant(part) * amps,
    stalled: isStalled(part, amps, RPM * rpm),
  };
}

function governorReading(part: Part, index: number, point: SolvedPoint): GovernorReading {
  const motor = part.choices.of ?? "";
  const hunting = point.hunting?.find((each) => each.part === index);
  const said = { motor, ...(part.choices.state !== undefined && { held: true as const }) };
  if (hunting === undefined) return { ...said, state: isClosed(part) ? "closed" : "open" };
  const speed = (state: string) => speedOf(point, hunting.between.get(state) ?? point.state, motor);
  return { ...said, state: "hunting", closed_rpm: speed("closed"), open_rpm: speed("open") };
}

/** Motors and governors of a circuit at its operating point; nothing where there are none. */
export function motorReadings(point: SolvedPoint): {
  motors?: Record<string, MotorReading>;
  governors?: Record<string, GovernorReading>;
} {
  const { parts } = point.network.circuit;
  const of = <Reading>(kind: string, read: (part: Part, index: number, point: SolvedPoint) => Reading) =>
    Object.fromEntries(
      parts.flatMap((part, k) => (part.kind === kind ? [[part.name, read(part, k, point)] as const] : [])),
    );
  const motors = of("motor", motorReading);
  const governors = of("governor", governorReading);
  return {
    ...(Object.keys(motors).length > 0 && { motors }),
    ...(Object.keys(governors).length > 0 && { governors }),
  };
}
