import type { SolvedPoint } from "../operating-point.ts";
import { DenseLu } from "./dense-lu.ts";
import type { DrivenSteady } from "./driven.ts";
import { type Fourier, fourier, harmonicOf, isSine, partner } from "./fourier.ts";
import { PortImpedances } from "./port-impedances.ts";
import { SampledDevice } from "./sampled-device.ts";

/** A device whose slopes differ from its tangents by so much, times the impedances there, is left to iteration. */
const LOOSE = 1;

/** Samples to the highest harmonic: products of two functions are told apart with more than three. */
const SAMPLES_PER_HARMONIC = 8;

/** Derivatives at a state, factored. */
export interface Slopes {
  /** Whether every junction was linearised where it was asked to be. */
  readonly whole: boolean;
  /** The Newton step for a residual. */
  solve(residual: Float64Array): Float64Array;
}

/** A device with the ports that it acts on; −1 for what is no unknown. */
interface Member {
  readonly harmonics: SampledDevice;
  readonly ports: readonly number[];
  readonly fixed: Float64Array;
  readonly slope: Float64Array;
  readonly capacitance: Float64Array;
}

/**
 * Harmonic balance over the ports of the nonlinear devices: u = source + Z·(what the devices' currents differ
 * from their tangents). `u` holds deviations from the operating point: coefficients of 1, cos θ, sin θ,
 * cos 2θ … by block, port by port. Of the derivatives only those of devices far from their tangents are
 * solved with.
 */
export class PortBalance {
  readonly size: number;
  readonly #impedances: PortImpedances;
  readonly #fourier: Fourier;
  readonly #members: readonly Member[];
  readonly #state: Float64Array;
  readonly #omega: number;
  readonly #width: number;
  /** Greatest impedance between two ports over all harmonics, port by port. */
  readonly #greatest: Float64Array;
  /** What the devices' currents at the operating point are. */
  readonly #still: readonly Float64Array[];

  constructor(point: SolvedPoint, source: number, omega: number, harmonics: number) {
    const { network, state } = point;
    this.#impedances = new PortImpedances(point, source, omega, harmonics);
    this.#fourier = fourier(harmonics, SAMPLES_PER_HARMONIC);
    this.#state = state;
    this.#omega = omega;
    const { ports, tangents } = this.#impedances;
    this.#width = ports.length;
    this.size = this.#fourier.blocks * ports.length;
    this.#members = network.devices.map((placed, d) => {
      const fixed = Float64Array.from(placed.locals, (unknown) => state[unknown]!);
      return {
        harmonics: new SampledDevice(placed, this.#fourier, fixed),
        ports: [...placed.locals].map((unknown) => ports.indexOf(unknown)),
        fixed,
        ...tangents[d]!,
      };
    });
    this.#greatest = this.#greatestImpedances();
    this.#still = this.#members.map(({ harmonics: { placed }, fixed }) => {
      placed.x.set(fixed);
      placed.device.evaluate(placed.x, placed.load);
      return placed.load.current.slice();
    });
  }

  #greatestImpedances(): Float64Array {
    const { ports, harmonics } = this.#impedances;
    const w = this.#width;
    const greatest = new Float64Array(w * w);
    for (let k = 0; k <= harmonics; k++)
      for (let to = 0; to < w; to++)
        for (let from = 0; from < w; from++) {
          const size = Math.hypot(
            this.#impedances.cosine(k, ports[to]!, from),
            this.#impedances.sine(k, ports[to]!, from),
          );
          greatest[to * w + from] = Math.max(greatest[to * w + from]!, size);
        }
    return greatest;
  }

  /** A state with so much more of the source, V peak, by what the small signal makes of it. */
  raised(u: Float64Array, volts: number): Float64Array {
    const { ports, ofSource, size: n } = this.#impedances;
    const w = this.#width;
    const more = u.slice();
    ports.forEach((port, p) => {
      more[w + p]! += volts * ofSource[port]!;
      more[2 * w + p]! += volts * ofSource[n + port]!;
    });
    return more;
  }

  /** Coefficients of a device's local unknowns. */
  #coefficients({ ports, fixed }: Member, u: Float64Array): Float64Array[] {
    const w = this.#width;
    return ports.map((port, local) =>
      Float64Array.from({ length: this.#fourier.blocks }, (_, block) => {
        const still = block === 0 ? fixed[local]! : 0;
        return port < 0 ? still : still + u[block * w + port]!;
      }),
    );
  }

  /** What the currents into the ports differ from the tangents, by block and port. */
  #excess(u: Float64Array, exact: boolean): Float64Array {
    const excess = new Float64Array(this.size);
    const w = this.#width;
    const { blocks } = this.#fourier;
    this.#members.forEach((member, d) => {
      const coefficients = this.#coefficients(member, u);
      if (exact) member.harmonics.evaluate(coefficients);
      else member.harmonics.carry(coefficients);
      const { ports, harmonics, slope, capacitance } = member;
      const { size } = harmonics.placed.device;
      for (let block = 0; block < blocks; block++) {
        const turn = this.#turn(block);
        for (let row = 0; row < size; row++) {
          if (ports[row]! < 0) continue;
          let amps = harmonics.current.coefficient(block, row) - (block === 0 ? this.#still[d]![row]! : 0);
          if (block > 0) amps += turn * harmonics.charge.coefficient(partner(block), row);
          for (let column = 0; column < size; column++) {
            const port = ports[column]!;
            if (port < 0) continue;
            amps -= slope[row * size + column]! * u[block * w + port]!;
            if (block > 0) amps -= turn * capacitance[row * size + column]! * u[partner(block) * w + port]!;
          }
          excess[block * w + ports[row]!]! += amps;
        }
      }
    });
    return excess;
  }

  /** ±kω: what d/dt makes of the partner's coefficient. */
  #turn(block: number): number {
    return (isSine(block) ? -1 : 1) * harmonicOf(block) * this.#omega;
  }

  /** Adds Z·amps to `into`, at the unknowns `to`, block by block. */
  #addVoltages(amps: Float64Array, into: Float64Array, to: readonly number[]): void {
    const w = this.#width;
    const { harmonics } = this.#impedances;
    for (let from = 0; from < w; from++)
      for (let k = 0; k <= harmonics; k++) {
        const cosine = amps[(k === 0 ? 0 : 2 * k - 1) * w + from]!;
        const sine = k === 0 ? 0 : amps[2 * k * w + from]!;
        if (cosine === 0 && sine === 0) continue;
        for (let p = 0; p < to.length; p++) {
          const zc = this.#impedances.cosine(k, to[p]!, from);
          const zs = this.#impedances.sine(k, to[p]!, from);
          into[(k === 0 ? 0 : 2 * k - 1) * to.length + p]! += zc * cosine - zs * sine;
          if (k > 0) into[2 * k * to.length + p]! += zs * cosine + zc * sine;
        }
      }
  }

  /** u − source + Z·excess; by the tangents last taken unless `exact`. */
  residual(u: Float64Array, volts: number, exact: boolean): Float64Array {
    const left = this.raised(u, -volts);
    this.#addVoltages(this.#excess(u, exact), left, this.#impedances.ports);
    return left;
  }

  /** Derivatives of the residual at `u`. */
  linearise(u: Float64Array): Slopes {
    let whole = true;
    for (const member of this.#members)
      if (!member.harmonics.linearise(this.#coefficients(member, u))) whole = false;
    const far = this.#members.filter((member) => this.#distance(member) > LOOSE);
    const columns = [...new Set(far.flatMap(({ ports }) => ports.filter((port) => port >= 0)))];
    const matrix = this.#matrix(far, columns);
    const lu = new DenseLu(columns.length * this.#fourier.blocks, matrix);
    return { whole, solve: (residual) => this.#step(residual, far, columns, lu) };
  }

  /**
   * How far a device's slopes are from its tangents: as shares of these, or times the impedances there,
   * whichever is less. Both bound by how much Newton's steps miss that leave the difference out.
   */
  #distance({ harmonics, ports, slope, capacitance }: Member): number {
    const { size } = harmonics.placed.device;
    const fastest = this.#fourier.harmonics * this.#omega;
    let [share, sum] = [0, 0];
    for (let entry = 0; entry < size * size; entry++) {
      const [row, column] = [Math.floor(entry / size), entry % size];
      const [to, from] = [ports[column]!, ports[row]!];
      if (to < 0 || from < 0) continue;
      let [far, farCharge] = [0, 0];
      for (let block = 0; block < this.#fourier.blocks; block++) {
        const still = block === 0 ? 1 : 0;
        far += Math.abs(harmonics.slope.coefficient(block, entry) - still * slope[entry]!);
        farCharge += Math.abs(harmonics.chargeSlope.coefficient(block, entry) - still * capacitance[entry]!);
      }
      const all = far + fastest * farCharge;
      const tangent = Math.hypot(slope[entry]!, fastest * capacitance[entry]!);
      if (all > 0) share = Math.max(share, all / tangent);
      sum += all * this.#greatest[to * this.#width + from]!;
    }
    return Math.min(share, sum);
  }

  /** What a far device adds to the derivative of its excess: block `row` by block `by`. */
  #derivative(member: Member, block: number, by: number, entry: number): number {
    const { harmonics, slope, capacitance } = member;
    let value = harmonics.slope.product(block, by, entry) - (block === by ? slope[entry]! : 0);
    if (block === 0) return value;
    const other = partner(block);
    value +=
      this.#turn(block) *
      (harmonics.chargeSlope.product(other, by, entry) - (other === by ? capacitance[entry]! : 0));
    return value;
  }

  /** Derivatives of the excess by the far ports' voltages, times those voltages, added to `amps`. */
  #addExcess(
    far: readonly Member[],
    columns: readonly number[],
    voltage: (block: number, column: number) => number,
    amps: Float64Array,
    only?: readonly [block: number, port: number],
  ): void {
    const { blocks } = this.#fourier;
    for (const member of far) {
      const { ports } = member;
      const { size } = member.harmonics.placed.device;
      for (let column = 0; column < size; column++) {
        const port = ports[column]!;
        if (port < 0 || (only !== undefined && only[1] !== port)) continue;
        const place = columns.indexOf(port);
        for (let by = 0; by < blocks; by++) {
          if (only !== undefined && only[0] !== by) continue;
          const volts = voltage(by, place);
          if (volts === 0) continue;
          for (let block = 0; block < blocks; block++)
            for (let row = 0; row < size; row++)
              if (ports[row]! >= 0)
                amps[block * this.#width + ports[row]!]! +=
                  this.#derivative(member, block, by, row * size + column) * volts;
        }
      }
    }
  }

  /** 1 + Z·D over the far ports. */
  #matrix(far: readonly Member[], columns: readonly number[]): Float64Array {
    const { blocks } = this.#fourier;
    const size = columns.length * blocks;
    const matrix = new Float64Array(size * size);
    const unknowns = columns.map((port) => this.#impedances.ports[port]!);
    const amps = new Float64Array(this.size);
    const volts = new Float64Array(size);
    for (let by = 0; by < blocks; by++)
      for (let c = 0; c < columns.length; c++) {
        amps.fill(0);
        volts.fill(0);
        this.#addExcess(far, columns, () => 1, amps, [by, columns[c]!]);
        this.#addVoltages(amps, volts, unknowns);
        const at = by * columns.length + c;
        volts[at]! += 1;
        for (let r = 0; r < size; r++) matrix[r * size + at] = volts[r]!;
      }
    return matrix;
  }

  /** The Newton step: the far ports together, the others follow. */
  #step(
    residual: Float64Array,
    far: readonly Member[],
    columns: readonly number[],
    lu: DenseLu,
  ): Float64Array {
    const { blocks } = this.#fourier;
    const w = this.#width;
    const own = new Float64Array(columns.length * blocks);
    for (let block = 0; block < blocks; block++)
      columns.forEach((port, c) => {
        own[block * columns.length + c] = residual[block * w + port]!;
      });
    const together = lu.solve(own);
    const amps = new Float64Array(this.size);
    this.#addExcess(far, columns, (by, column) => together[by * columns.length + column]!, amps);
    for (let k = 0; k < amps.length; k++) amps[k] = -amps[k]!;
    const step = residual.slice();
    this.#addVoltages(amps, step, this.#impedances.ports);
    return step;
  }

  /** All unknowns from the ports. */
  described(u: Float64Array, volts: number): DrivenSteady {
    const n = this.#impedances.size;
    const { blocks, harmonics } = this.#fourier;
    const amps = this.#excess(u, true).map((value) => -value);
    const all = new Float64Array(blocks * n);
    all.set(this.#state.subarray(0, n));
    const { ofSource } = this.#impedances;
    for (let k = 0; k < 2 * n; k++) all[n + k] = volts * ofSource[k]!;
    this.#addVoltages(
      amps,
      all,
      Array.from({ length: n }, (_, k) => k),
    );
    return {
      omega: this.#omega,
      harmonics,
      mean: (unknown) => (unknown < n ? all[unknown]! : 0),
      phasor: (unknown, harmonic) =>
        unknown < n && harmonic <= harmonics
          ? { re: all[(2 * harmonic - 1) * n + unknown]!, im: -all[2 * harmonic * n + unknown]! }
          : { re: 0, im: 0 },
    };
  }
}
