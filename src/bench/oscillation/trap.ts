import type { Part } from "../../circuit/circuit.ts";
import { PencilSolver } from "../../engine/natural/pencil.ts";
import { vectorOf } from "../../engine/natural/vector.ts";
import { pencilOf } from "../../engine/natural-frequencies.ts";
import { SmallSignal } from "../../engine/small-signal.ts";
import type { LimitCycle } from "../../engine/steady/limit-cycle.ts";
import { inductance } from "../../parts/inductor.ts";
import type { SolvedMode } from "../run.ts";
import type { Trap } from "./results.ts";

/** A source this stiff holds the near side, S. */
const STIFF = 1e6;
/** A parallel circuit further off than this, relative, is not tuned to the oscillation. */
const NEAR = 0.3;

interface Pair {
  readonly coil: Part;
  readonly capacitor: Part;
  readonly nets: readonly [number, number];
}

/** Coils with a capacitor across, not themselves at chassis, that resonate near the oscillation. */
export function traps(solved: SolvedMode, hertz: number, cycle: LimitCycle | undefined): Trap[] {
  return pairs(solved)
    .filter(({ coil, capacitor }) => Math.abs(resonance(coil, capacitor) / hertz - 1) < NEAR)
    .map((pair) => trapOf(solved, pair, hertz, cycle));
}

function pairs({ circuit }: SolvedMode): Pair[] {
  return circuit.parts.flatMap((coil) => {
    if (coil.kind !== "inductor") return [];
    const [a = 0, b = 0] = coil.pins.map(({ net }) => net);
    const capacitor = circuit.parts.find(
      ({ kind, pins }) =>
        kind === "capacitor" && a !== b && [a, b].every((end) => pins.some(({ net }) => net === end)),
    );
    return capacitor === undefined || a === 0 || b === 0 ? [] : [{ coil, capacitor, nets: [a, b] as const }];
  });
}

const resonance = (coil: Part, { values }: Part): number =>
  1 / (2 * Math.PI * Math.sqrt(inductance(coil) * (values.capacitance ?? 0)));

function trapOf(solved: SolvedMode, pair: Pair, hertz: number, cycle: LimitCycle | undefined): Trap {
  const { circuit, point } = solved;
  const { coil, capacitor, nets } = pair;
  const peak = (net: number) => {
    const phasor = cycle?.phasor(point.network.unknowns.net[net]!, 1) ?? { re: 0, im: 0 };
    return Math.hypot(phasor.re, phasor.im);
  };
  const bench = new TrapBench(solved, pair, 2 * Math.PI * hertz);
  const [a, b] = nets;
  const driven = cycle === undefined ? bench.ratio(a, b, 1) > bench.ratio(b, a, 1) : peak(a) < peak(b);
  const [from, to] = driven ? [b, a] : [a, b];
  const attenuation = (share: number) => -20 * Math.log10(Math.max(bench.ratio(from, to, share), 1e-20));
  const f = resonance(coil, capacitor);
  return {
    coil: coil.name,
    capacitor: capacitor.name,
    resonance_hertz: f,
    attenuation_db: attenuation(1),
    from: circuit.nets[from]!.name,
    to: circuit.nets[to]!.name,
    ...(cycle && { residual_volts_peak: peak(to) }),
    attenuation_db_one_percent_more: attenuation(1.01),
    attenuation_db_one_percent_less: attenuation(0.99),
    hertz_per_percent: f * (1 / Math.sqrt(1.01) - 1),
  };
}

/** Voltage on one side of the trap for 1 V on the other, with so much of its inductance. */
class TrapBench {
  readonly #solved: SolvedMode;
  readonly #coil: number;
  readonly #omega: number;

  constructor(solved: SolvedMode, { coil }: Pair, omega: number) {
    this.#solved = solved;
    this.#coil = solved.circuit.parts.indexOf(coil);
    this.#omega = omega;
  }

  ratio(from: number, to: number, share: number): number {
    const { point } = this.#solved;
    const pencil = pencilOf(new SmallSignal(point));
    const { unknowns } = point.network;
    const near = unknowns.net[from]!;
    const current = unknowns.locals[this.#coil]![2]!;
    const { row, column } = pencil.pattern;
    const slot = (r: number, k: number) => row.findIndex((each, s) => each === r && column[s] === k);
    pencil.g[slot(near, near)]! += STIFF;
    pencil.c[slot(current, current)]! *= share;
    const solver = new PencilSolver(pencil);
    if (!solver.tune({ re: 0, im: this.#omega })) return 0;
    const b = vectorOf(pencil.pattern.size);
    const x = vectorOf(pencil.pattern.size);
    b.re[near] = STIFF;
    solver.solve(b, x);
    const far = unknowns.net[to]!;
    return Math.hypot(x.re[far]!, x.im[far]!) / Math.hypot(x.re[near]!, x.im[near]!);
  }
}
