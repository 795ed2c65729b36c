import { gather } from "../devices.ts";
import type { Pattern } from "../kernel/pattern.ts";
import { HOLD, type Network } from "../network.ts";
import { electricalSlots, scatter } from "../slots.ts";

/** ∂(−F)/∂x and ∂q/∂x at a state, by slot. */
export interface Slopes {
  readonly g: Float64Array;
  readonly c: Float64Array;
}

/** F, q and their slopes at a state, by row and by slot. */
export interface Evaluation extends Slopes {
  readonly f: Float64Array;
  readonly q: Float64Array;
}

/**
 * The circuit in time: dq/dt = F, with q(x) the charges and fluxes by row and F = sources − G·x − i(x).
 * Junction temperatures stay where they are. Unknowns are the electrical ones.
 */
export class TimeSystem {
  readonly network: Network;
  readonly size: number;
  readonly pattern: Pattern;
  /** 1 for slots of the matrix that hold a capacitance or inductance. */
  readonly reactive: Uint8Array;
  /** 1 for slots whose values change from step to step: reactive ones and those of devices. */
  readonly varying: Uint8Array;
  /** The slopes that stay until parts are changed, by slot; 0 in varying slots. */
  readonly constant: Float64Array;
  /** Times that parts have been changed. */
  turns = 0;
  /** 1 for rows with a charge or flux: the others are algebraic. */
  readonly hasCharge: Uint8Array;
  /** Value of each signal source's EMF by part index, V; set before `evaluate`. */
  readonly emf: Float64Array;
  readonly #gSlot: Int32Array;
  readonly #cSlot: Int32Array;
  readonly #slopeSlots: readonly Int32Array[];
  readonly #chargeSlots: readonly Int32Array[];
  readonly #diagonal: Int32Array;
  /** Slopes of the linear parts. */
  readonly #linear: Slopes;
  #held: readonly number[];

  constructor(network: Network) {
    this.network = network;
    const n = network.unknowns.electrical;
    const placed = electricalSlots(
      network,
      Array.from({ length: n }, (_, k) => k),
    );
    this.#gSlot = placed.g;
    this.#cSlot = placed.c;
    this.#slopeSlots = placed.slopes;
    this.#chargeSlots = placed.charges;
    this.#diagonal = placed.diagonals;
    this.size = n;
    this.pattern = placed.pattern;
    const slots = this.pattern.row.length;
    this.#linear = { g: new Float64Array(slots), c: new Float64Array(slots) };
    this.emf = new Float64Array(network.circuit.parts.length);
    this.#held = network.freeAtAc.held;
    this.reactive = new Uint8Array(slots);
    this.varying = new Uint8Array(slots);
    this.constant = new Float64Array(slots);
    this.hasCharge = new Uint8Array(n);
    for (const list of [this.#cSlot, ...this.#chargeSlots]) {
      for (const slot of list) {
        if (slot < 0) continue;
        this.reactive[slot] = 1;
        this.hasCharge[this.pattern.row[slot]!] = 1;
      }
    }
    for (const list of [this.#cSlot, ...this.#slopeSlots, ...this.#chargeSlots])
      for (const slot of list) if (slot >= 0) this.varying[slot] = 1;
    this.refresh();
  }

  /** Takes over the network's values after parts were changed. */
  refresh(): void {
    const { stamps } = this.network;
    const { g, c } = this.#linear;
    this.#held = this.network.freeAtAc.held;
    g.fill(0);
    c.fill(0);
    scatter(g, this.#gSlot, stamps.g.value);
    scatter(c, this.#cSlot, stamps.c.value);
    for (const node of this.#held) g[this.#diagonal[node]!]! += HOLD;
    for (let s = 0; s < g.length; s++) this.constant[s] = this.varying[s] === 1 ? 0 : g[s]!;
    this.turns++;
  }

  /**
   * F, q and slopes at a state. With `tempered`, the devices shorten steps too long for them (see
   * `remember`); returns whether all took the last one whole.
   */
  evaluate(state: Float64Array, { f, q, g, c }: Evaluation, tempered = false): boolean {
    this.#addLinear(state, f, q);
    g.set(this.#linear.g);
    c.set(this.#linear.c);
    const { devices } = this.network;
    let whole = true;
    for (let d = 0; d < devices.length; d++) {
      const placed = devices[d]!;
      const { device, locals, load } = placed;
      gather(placed, state);
      if (!device.evaluate(placed.x, load, tempered ? placed.memory : undefined)) whole = false;
      for (let k = 0; k < locals.length; k++) f[locals[k]!]! -= load.current[k]!;
      scatter(g, this.#slopeSlots[d]!, load.slope);
      device.charges(placed.x, load);
      for (let k = 0; k < locals.length; k++) q[locals[k]!]! += load.current[k]!;
      scatter(c, this.#chargeSlots[d]!, load.slope);
    }
    return whole;
  }

  #addLinear(state: Float64Array, f: Float64Array, q: Float64Array): void {
    f.fill(0);
    q.fill(0);
    const { g, c, supply, signal } = this.network.stamps;
    for (let e = 0; e < g.row.length; e++) f[g.row[e]!]! -= g.value[e]! * state[g.column[e]!]!;
    for (let e = 0; e < c.row.length; e++) q[c.row[e]!]! += c.value[e]! * state[c.column[e]!]!;
    for (let e = 0; e < supply.row.length; e++) f[supply.row[e]!]! += supply.value[e]!;
    for (const node of this.#held) f[node]! -= HOLD * state[node]!;
    this.#addSignals(signal, f);
  }

  #addSignals({ start, row, value }: Network["stamps"]["signal"], f: Float64Array): void {
    for (let part = 0; part < this.emf.length; part++) {
      const emf = this.emf[part]!;
      if (emf === 0) continue;
      for (let e = start[part]!; e < start[part + 1]!; e++) f[row[e]!]! += emf * value[e]!;
    }
  }

  /** Lets the devices take `state` as the point from which the next tempered steps are shortened. */
  remember(state: Float64Array): void {
    for (const placed of this.network.devices) {
      gather(placed, state);
      placed.device.remember(placed.x, placed.memory);
    }
  }
}
