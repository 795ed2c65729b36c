import { gather } from "./devices.ts";
import { ComplexLu } from "./kernel/complex-lu.ts";
import { type Elimination, record } from "./kernel/elimination.ts";
import { order } from "./kernel/order.ts";
import type { Pattern } from "./kernel/pattern.ts";
import { quickElimination } from "./kernel/quick-elimination.ts";
import { HOLD, type Network } from "./network.ts";
import type { SolvedPoint } from "./operating-point.ts";
import { electricalSlots, scatter } from "./slots.ts";
import type { Entries } from "./stamps.ts";
import { columnScale } from "./unknowns.ts";

/** A complex number as a pair, for results. */
export interface Phasor {
  readonly re: number;
  readonly im: number;
}

/** Part of a combination of unknowns: (conductance + jω·capacitance)·unknown, by state number. */
export interface Term {
  readonly unknown: number;
  readonly conductance: number;
  readonly capacitance: number;
}

/**
 * The circuit linearised at an operating point: (G + jωC)·x = b over the electrical unknowns, junction
 * temperatures held. Pattern and order are kept from frequency to frequency and, through `linearise`,
 * from point to point of the same network.
 */
export class SmallSignal {
  readonly network: Network;
  readonly pattern: Pattern;
  /** Values by slot of `pattern`: conductances and (to be multiplied by ω) capacitances. */
  readonly g: Float64Array;
  readonly c: Float64Array;
  /** Times a point was linearised at: combinations of unknowns made before may hold old values. */
  linearisations = 0;
  /** Times the matrix was put in a new order. */
  orderings = 0;
  readonly #gSlot: Int32Array;
  readonly #cSlot: Int32Array;
  readonly #slopeSlots: readonly Int32Array[];
  readonly #chargeSlots: readonly Int32Array[];
  readonly #heldSlots: Int32Array;
  /** Linearised devices of the point, by device: conductances and capacitances, local square. */
  readonly #slopes: Float64Array[];
  readonly #capacitances: Float64Array[];
  readonly #varying: Uint8Array;
  readonly #columnScale: Float64Array;
  readonly #rightSide: Float64Array;
  #lu: ComplexLu | undefined;
  readonly #electrical: number;
  /** ω of both frequencies tuned to. */
  readonly #omega = new Float64Array(2).fill(Number.NaN);
  /** The source that the kept right-hand side belongs to. */
  #driven = -1;
  #stale = true;

  constructor(point: SolvedPoint) {
    const { network } = point;
    this.network = network;
    const { unknowns, devices, freeAtAc } = network;
    const n = unknowns.electrical;
    this.#electrical = n;
    const placed = electricalSlots(network, freeAtAc.held);
    this.#gSlot = placed.g;
    this.#cSlot = placed.c;
    this.#slopeSlots = placed.slopes;
    this.#chargeSlots = placed.charges;
    this.#heldSlots = placed.diagonals;
    this.pattern = placed.pattern;
    const slots = this.pattern.row.length;
    this.g = new Float64Array(slots);
    this.c = new Float64Array(slots);
    this.#rightSide = new Float64Array(n);
    this.#columnScale = columnScale(unknowns.list.slice(0, n));
    this.#varying = new Uint8Array(slots);
    for (const list of [this.#cSlot, ...this.#chargeSlots])
      for (const slot of list) if (slot >= 0) this.#varying[slot] = 1;
    this.#slopes = devices.map(({ device }) => new Float64Array(device.size ** 2));
    this.#capacitances = devices.map(({ device }) => new Float64Array(device.size ** 2));
    this.linearise(point.state);
  }

  /** Takes over the stamps' present values and the devices' slopes and capacitances at `state`. */
  linearise(state: Float64Array): void {
    const { stamps, devices } = this.network;
    this.linearisations++;
    this.g.fill(0);
    this.c.fill(0);
    this.#omega.fill(Number.NaN);
    this.#stale = true;
    scatter(this.g, this.#gSlot, stamps.g.value);
    scatter(this.c, this.#cSlot, stamps.c.value);
    for (const slot of this.#heldSlots) this.g[slot]! += HOLD;
    devices.forEach((placed, d) => {
      gather(placed, state);
      placed.device.evaluate(placed.x, placed.load);
      this.#slopes[d]!.set(placed.load.slope);
      placed.device.charges(placed.x, placed.load);
      this.#capacitances[d]!.set(placed.load.slope);
      scatter(this.g, this.#slopeSlots[d]!, this.#slopes[d]!);
      scatter(this.c, this.#chargeSlots[d]!, this.#capacitances[d]!);
    });
  }

  /**
   * Factors the matrix at `hertz` and, which costs nothing more, at a `second` frequency beside it. Returns
   * the unknowns that nothing determines, if there are any.
   */
  tune(hertz: number, second = hertz): readonly number[] | undefined {
    const omega = 2 * Math.PI * hertz;
    const wanted = 2 * Math.PI * second;
    let other = this.#lu?.pairs === false ? omega : wanted;
    if (omega === this.#omega[0] && other === this.#omega[1]) return undefined;
    if (!this.#factored(omega, other)) {
      const undetermined = this.#reorder(omega);
      if (undetermined !== undefined) return undetermined;
      if (this.#lu?.pairs === false) other = omega;
      if (other !== omega && !this.#lu!.factor(omega, other)) return this.#tuneOne(omega);
    }
    this.#omega[0] = omega;
    this.#omega[1] = other;
    return undefined;
  }

  /** No one order suits both frequencies: the second is left out. */
  #tuneOne(omega: number): undefined {
    this.#lu!.factor(omega);
    this.#omega.fill(omega);
  }

  /** Whether lane 1 holds this frequency: not in large circuits, nor where no one order of pivots suited both. */
  hasSecond(hertz: number): boolean {
    return this.#omega[1] === 2 * Math.PI * hertz;
  }

  #factored(omega: number, other: number): boolean {
    const lu = this.#lu;
    if (lu === undefined) return false;
    if (this.#stale) {
      this.#driven = -1;
      if (!lu.fix(this.g, this.c)) return false;
      this.#stale = false;
    }
    return lu.factor(omega, other);
  }

  #reorder(omega: number): readonly number[] | undefined {
    const values = {
      real: this.g,
      imaginary: this.c.map((farads) => omega * farads),
      columnScale: this.#columnScale,
      varying: this.#varying,
    };
    const quick = quickElimination(this.pattern, values);
    if (quick !== undefined && this.#adopt(quick, omega, true)) return undefined;
    const ordering = order(this.pattern, values);
    if ("singularColumns" in ordering) return ordering.singularColumns;
    this.#adopt(record(this.pattern, ordering, this.#varying), omega, false);
    return undefined;
  }

  /** Goes over to this elimination and factors by it; with `ifSound`, only if its pivots are large enough. */
  #adopt(elimination: Elimination, omega: number, ifSound: boolean): boolean {
    const lu = new ComplexLu(elimination);
    const fixed = lu.fix(this.g, this.c);
    const factored = lu.factor(omega);
    if (ifSound && !(fixed && factored)) return false;
    this.orderings++;
    this.#lu = lu;
    this.#stale = false;
    this.#driven = -1;
    return true;
  }

  /** The recorded elimination, once a frequency has been tuned to, and whether it runs as machine code. */
  get elimination(): Elimination | undefined {
    return this.#lu?.elimination;
  }

  get compiled(): boolean {
    return this.#lu?.compiled ?? false;
  }

  /** Multiply-adds of a solution at a frequency as it is worked out now (see `ComplexLu`). */
  get solveCost(): number {
    return this.#lu?.solveCost ?? 0;
  }

  /** Solves for 1 V of signal EMF in the part with this index, at the frequency tuned to. */
  drive(part: number): void {
    const lu = this.#lu;
    if (lu === undefined) return;
    if (part !== this.#driven) {
      const { start, row, value } = this.network.stamps.signal;
      this.#rightSide.fill(0);
      for (let e = start[part]!; e < start[part + 1]!; e++) this.#rightSide[row[e]!]! += value[e]!;
      lu.drive(this.#rightSide);
      this.#driven = part;
    }
    lu.solve();
  }

  /** Solves for currents driven into nodes from outside, A by state number, at the frequency tuned to. */
  driveCurrents(into: readonly (readonly [node: number, amps: number])[]): void {
    const lu = this.#lu;
    if (lu === undefined) return;
    this.#rightSide.fill(0);
    for (const [node, amps] of into) if (node < this.#electrical) this.#rightSide[node]! += amps;
    lu.drive(this.#rightSide);
    this.#driven = -1;
    lu.solve();
  }

  /** Value of an unknown by its state number; 0 for chassis and fixed temperatures. */
  at(unknown: number): Phasor {
    return { re: this.#re(unknown), im: this.#im(unknown) };
  }

  /** Conductances of a part's device, local square, S; nothing for a part without one. */
  slope(part: number): Float64Array | undefined {
    const d = this.network.devices.findIndex((placed) => placed.part === part);
    return this.#slopes[d]?.slice();
  }

  /** Adds to one conductance of a part's device (local row and column), until the next `linearise`. */
  adjustSlope(part: number, row: number, column: number, siemens: number): void {
    const d = this.network.devices.findIndex((placed) => placed.part === part);
    const entry = row * (this.network.devices[d]?.device.size ?? 0) + column;
    const slot = this.#slopeSlots[d]?.[entry] ?? -1;
    this.#slopes[d]![entry]! += siemens;
    if (slot >= 0) this.g[slot]! += siemens;
    this.#omega.fill(Number.NaN);
    this.#stale = true;
  }

  /** Real and imaginary part of an unknown by its state number; 0 for chassis and fixed temperatures. */
  #re(unknown: number, lane = 0): number {
    return unknown < this.#electrical ? this.#lu!.re(unknown, lane) : 0;
  }

  #im(unknown: number, lane = 0): number {
    return unknown < this.#electrical ? this.#lu!.im(unknown, lane) : 0;
  }

  /** Voltage of a net (index into `Circuit.nets`). */
  voltage(net: number, lane: 0 | 1 = 0): Phasor {
    const k = this.network.unknowns.net[net]!;
    return { re: this.#re(k, lane), im: this.#im(k, lane) };
  }

  /** Alternating current into a pin of a part. */
  pinCurrent(part: number, pin: number): Phasor {
    return this.combine(this.pinTerms(part, pin));
  }

  /** Σ (conductance + jω·capacitance)·unknown at the frequency tuned to, or the second (lane 1). */
  combine(terms: readonly Term[], lane: 0 | 1 = 0): Phasor {
    let re = 0;
    let im = 0;
    for (const { unknown, conductance, capacitance } of terms) {
      const susceptance = this.#omega[lane]! * capacitance;
      const [xRe, xIm] = [this.#re(unknown, lane), this.#im(unknown, lane)];
      re += conductance * xRe - susceptance * xIm;
      im += conductance * xIm + susceptance * xRe;
    }
    return { re, im };
  }

  /** The current into a pin of a part as a combination of unknowns, at the point linearised at. */
  pinTerms(part: number, pin: number): Term[] {
    const { stamps, devices } = this.network;
    const from = ({ start, local, column, value }: Entries, term: (value: number) => Omit<Term, "unknown">) =>
      Array.from({ length: start[part + 1]! - start[part]! }, (_, k) => start[part]! + k)
        .filter((e) => local[e] === pin)
        .map((e) => ({ unknown: column[e]!, ...term(value[e]!) }));
    const ofDevices = devices.flatMap(({ part: owner, device, locals }, d) => {
      if (owner !== part) return [];
      const row = pin * device.size;
      return Array.from(locals, (unknown, k) => ({
        unknown,
        conductance: this.#slopes[d]![row + k]!,
        capacitance: this.#capacitances[d]![row + k]!,
      }));
    });
    return [
      ...from(stamps.g, (conductance) => ({ conductance, capacitance: 0 })),
      ...from(stamps.c, (capacitance) => ({ conductance: 0, capacitance })),
      ...ofDevices,
    ];
  }

  /**
   * What an injection at each row (A into a node, V in a branch) gives in one combination of the
   * unknowns, at the frequency tuned to: one solution of the transposed system. Written to `re` and `im`
   * by state number.
   */
  adjoint(terms: readonly Term[], re: Float64Array, im: Float64Array): void {
    const weightRe = new Float64Array(this.#electrical);
    const weightIm = new Float64Array(this.#electrical);
    for (const { unknown, conductance, capacitance } of terms) {
      if (unknown >= this.#electrical) continue;
      weightRe[unknown]! += conductance;
      weightIm[unknown]! += this.#omega[0]! * capacitance;
    }
    this.#lu?.solveTransposed(weightRe, weightIm, re, im);
  }
}
