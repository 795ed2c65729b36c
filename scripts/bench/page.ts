import { decibels } from "../../src/bench/response.ts";
import { transistorReading } from "../../src/bench/transistor-reading.ts";
import { netVolts } from "../../src/bench/voltages.ts";
import type { Circuit } from "../../src/circuit/circuit.ts";
import { withPartStates } from "../../src/circuit/conditions.ts";
import { currentInto } from "../../src/engine/currents.ts";
import type { SolvedPoint } from "../../src/engine/operating-point.ts";
import {
  frequencies,
  recorder,
  type Standing,
  solved,
  solverOf,
  standings,
  sweepOf,
} from "./demonstrations.ts";
import { type Findings, type Line, mustAgree } from "./results.ts";
import { inProcess, interleave } from "./sampling.ts";

const POINTS = 200;
const ALLOWED = 1e-9;
/** The trimmer that is dragged, and how far between two updates. */
const TRIMMER = "P2";
const SETTINGS = [0.5, 0.51];

/**
 * (f) What the page does for one movement of a trimmer: in both modes the values put in, the operating
 * point from the one before, its chart, and the response at 200 frequencies.
 */
export async function page(): Promise<Findings> {
  const rooms = standings(recorder()).map((standing): Room => {
    const circuits = SETTINGS.map((value) =>
      withPartStates(standing.circuit, [{ part: TRIMMER, key: "setting", value }]),
    );
    return { standing, circuits, point: standing.point };
  });
  const hertz = frequencies(POINTS);
  let turn = 0;
  const move = () => {
    turn = 1 - turn;
    for (const room of rooms) room.point = moved(room, turn);
  };
  const chart = () => {
    for (const { point } of rooms) chartOf(point);
  };
  const respond = () => {
    for (const { standing } of rooms) responseOf(standing, hertz);
  };
  const all = () => {
    move();
    chart();
    respond();
  };
  all();
  const difference = mustAgree("an update", Math.max(...rooms.map(distance)), ALLOWED);
  const timings = await interleave([
    inProcess("both modes: values, operating point, chart, 200 points", 1, all),
    inProcess("of it: values, operating points, linearisations", 1, move),
    inProcess("of it: charts", 1, chart),
    inProcess("of it: responses", 1, respond),
  ]);
  const found = 1e3 * timings[0]!.min;
  return {
    lines: timings.map(
      ({ name, min, median }, k): Line => ({
        ...{ item: "page", what: name, per: "update", min, median },
        ...(k === 0 && { difference }),
      }),
    ),
    demands: [{ item: "page", what: "one full update", found, wanted: 3, sense: "at most", unit: "ms" }],
  };
}

/** One mode, the trimmer's two positions, and the last point. */
interface Room {
  readonly standing: Standing;
  readonly circuits: readonly Circuit[];
  point: SolvedPoint;
}

function moved({ standing, circuits, point }: Room, turn: number): SolvedPoint {
  const { solver, smallSignal } = standing;
  const circuit = circuits[turn]!;
  if (!solver.retune(circuit, circuit.ambientCelsius)) throw new Error("a trimmer changed the structure");
  const found = solved(solver, point.state);
  smallSignal.linearise(found.state);
  return found;
}

/** Every net, transistor and part, as the voltage chart has them. */
function chartOf(point: SolvedPoint) {
  const { circuit } = point.network;
  const nets = circuit.nets.map(({ name }, k) => [name, netVolts(point, k)] as const);
  const parts = circuit.parts.map((part, k) => {
    if (part.kind === "transistor") return [part.name, transistorReading(point, k)] as const;
    const volts = part.pins.map(({ net }) => netVolts(point, net));
    const amps = volts.map((_, pin) => currentInto(point.currents, k, pin));
    const watts = volts.reduce((sum, one, pin) => sum + one * amps[pin]!, 0);
    return [part.name, { volts: volts[0]! - volts.at(-1)!, amps: amps[0]!, watts }] as const;
  });
  return { nets: Object.fromEntries(nets), parts: Object.fromEntries(parts) };
}

function responseOf(standing: Standing, hertz: readonly number[]) {
  const points: { decibels: number; degrees: number }[] = [];
  sweepOf(standing, hertz, (k, gain) => {
    points[k] = { decibels: decibels(gain), degrees: (Math.atan2(gain.im, gain.re) * 180) / Math.PI };
  });
  return points;
}

/** Relative distance to a cold solution by a solver of its own, largest of any unknown. */
function distance({ standing, point }: Room): number {
  const cold = solved(solverOf(standing.solver.network.circuit)).state;
  const apart = point.state.map(
    (value, k) => Math.abs(value - cold[k]!) / Math.max(1e-3, Math.abs(cold[k]!)),
  );
  return Math.max(...apart);
}
