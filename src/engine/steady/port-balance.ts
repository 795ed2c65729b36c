import type { SolvedPoint } from "../operating-point.ts";
import type { DrivenSteady } from "./driven.ts";
import { FarDevices, type Ports } from "./far-devices.ts";
import { type Fourier, fourier, partner } from "./fourier.ts";
import { type PortDevice, turnOf } from "./port-device.ts";
import { PortImpedances } from "./port-impedances.ts";
import { SampledDevice } from "./sampled-device.ts";

/** Samples to the highest harmonic: products of two functions are told apart with more than three. */
const SAMPLES_PER_HARMONIC = 8;

/** Derivatives at a state. */
export interface Slopes {
  /** Whether every junction was linearised where it was asked to be. */
  readonly whole: boolean;
  readonly far: FarDevices;
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
  readonly #members: readonly PortDevice[];
  readonly #state: Float64Array;
  readonly #omega: number;
  readonly #width: number;
  readonly #ports: Ports;
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
    const impedances = this.#impedances;
    this.#ports = { impedances, greatest: impedances.greatest(), fourier: this.#fourier, omega };
    this.#still = this.#members.map(({ harmonics: { placed }, fixed }) => {
      placed.x.set(fixed);
      placed.device.evaluate(placed.x, placed.load);
      return placed.load.current.slice();
    });
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
  #coefficients({ ports, fixed }: PortDevice, u: Float64Array): Float64Array[] {
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
        const turn = turnOf(block, this.#omega);
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

  /** u − source + Z·excess; by the tangents last taken unless `exact`. */
  residual(u: Float64Array, volts: number, exact: boolean): Float64Array {
    const left = this.raised(u, -volts);
    this.#impedances.addVoltages(this.#excess(u, exact), left, this.#impedances.ports);
    return left;
  }

  /** Derivatives of the residual at `u`, factored. */
  linearise(u: Float64Array): Slopes {
    const whole = this.#members.map((member) => member.harmonics.linearise(this.#coefficients(member, u)));
    return { whole: !whole.includes(false), far: new FarDevices(this.#ports, this.#members) };
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
    this.#impedances.addVoltages(
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
