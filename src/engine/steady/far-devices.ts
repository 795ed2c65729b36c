import { DenseLu } from "./dense-lu.ts";
import { type Fourier, partner } from "./fourier.ts";
import { type PortDevice, turnOf } from "./port-device.ts";
import type { PortImpedances } from "./port-impedances.ts";

/** A device whose slopes differ from its tangents by so much, times the impedances there, is left to iteration. */
const LOOSE = 1;

/** Where the devices lie. */
export interface Ports {
  readonly impedances: PortImpedances;
  /** Greatest impedance between two ports over all harmonics, port by port. */
  readonly greatest: Float64Array;
  readonly fourier: Fourier;
  readonly omega: number;
}

/** Newton's steps by the slopes last taken of devices far from their tangents; the others follow. */
export class FarDevices {
  readonly #ports: Ports;
  readonly #width: number;
  readonly #far: readonly PortDevice[];
  /** Ports on which they act. */
  readonly #columns: readonly number[];
  readonly #lu: DenseLu;

  constructor(ports: Ports, devices: readonly PortDevice[]) {
    this.#ports = ports;
    this.#width = ports.impedances.ports.length;
    this.#far = devices.filter((device) => this.#distance(device) > LOOSE);
    this.#columns = [...new Set(this.#far.flatMap((device) => device.ports.filter((port) => port >= 0)))];
    this.#lu = new DenseLu(this.#columns.length * ports.fourier.blocks, this.#matrix());
  }

  /**
   * How far a device's slopes are from its tangents: as shares of these, or times the impedances there,
   * whichever is less. Both bound by how much Newton's steps miss that leave the difference out.
   */
  #distance({ harmonics, ports, slope, capacitance }: PortDevice): number {
    const { size } = harmonics.placed.device;
    const fastest = this.#ports.fourier.harmonics * this.#ports.omega;
    let [share, sum] = [0, 0];
    for (let entry = 0; entry < size * size; entry++) {
      const [row, column] = [Math.floor(entry / size), entry % size];
      const [to, from] = [ports[column]!, ports[row]!];
      if (to < 0 || from < 0) continue;
      let [far, farCharge] = [0, 0];
      for (let block = 0; block < this.#ports.fourier.blocks; block++) {
        const still = block === 0 ? 1 : 0;
        far += Math.abs(harmonics.slope.coefficient(block, entry) - still * slope[entry]!);
        farCharge += Math.abs(harmonics.chargeSlope.coefficient(block, entry) - still * capacitance[entry]!);
      }
      const all = far + fastest * farCharge;
      const tangent = Math.hypot(slope[entry]!, fastest * capacitance[entry]!);
      if (all > 0) share = Math.max(share, all / tangent);
      sum += all * this.#ports.greatest[to * this.#width + from]!;
    }
    return Math.min(share, sum);
  }

  /** What a far device adds to the derivative of its excess: block `row` by block `by`. */
  #derivative(member: PortDevice, block: number, by: number, entry: number): number {
    const { harmonics, slope, capacitance } = member;
    let value = harmonics.slope.product(block, by, entry) - (block === by ? slope[entry]! : 0);
    if (block === 0) return value;
    const other = partner(block);
    value +=
      turnOf(block, this.#ports.omega) *
      (harmonics.chargeSlope.product(other, by, entry) - (other === by ? capacitance[entry]! : 0));
    return value;
  }

  /** Derivatives of the excess by the far ports' voltages, times those voltages, added to `amps`. */
  #addExcess(
    voltage: (block: number, column: number) => number,
    amps: Float64Array,
    only?: readonly [block: number, port: number],
  ): void {
    const { blocks } = this.#ports.fourier;
    for (const member of this.#far) {
      const { ports } = member;
      const { size } = member.harmonics.placed.device;
      for (let column = 0; column < size; column++) {
        const port = ports[column]!;
        if (port < 0 || (only !== undefined && only[1] !== port)) continue;
        const place = this.#columns.indexOf(port);
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
  #matrix(): Float64Array {
    const columns = this.#columns;
    const { blocks } = this.#ports.fourier;
    const size = columns.length * blocks;
    const matrix = new Float64Array(size * size);
    const unknowns = columns.map((port) => this.#ports.impedances.ports[port]!);
    const amps = new Float64Array(this.#width * blocks);
    const volts = new Float64Array(size);
    for (let by = 0; by < blocks; by++)
      for (let c = 0; c < columns.length; c++) {
        amps.fill(0);
        volts.fill(0);
        this.#addExcess(() => 1, amps, [by, columns[c]!]);
        this.#ports.impedances.addVoltages(amps, volts, unknowns);
        const at = by * columns.length + c;
        volts[at]! += 1;
        for (let r = 0; r < size; r++) matrix[r * size + at] = volts[r]!;
      }
    return matrix;
  }

  /** The Newton step: the far ports together, the others follow. */
  solve(residual: Float64Array): Float64Array {
    const columns = this.#columns;
    const { blocks } = this.#ports.fourier;
    const w = this.#width;
    const own = new Float64Array(columns.length * blocks);
    for (let block = 0; block < blocks; block++)
      columns.forEach((port, c) => {
        own[block * columns.length + c] = residual[block * w + port]!;
      });
    const together = this.#lu.solve(own);
    const amps = new Float64Array(this.#width * blocks);
    this.#addExcess((by, column) => together[by * columns.length + column]!, amps);
    for (let k = 0; k < amps.length; k++) amps[k] = -amps[k]!;
    const step = residual.slice();
    this.#ports.impedances.addVoltages(amps, step, this.#ports.impedances.ports);
    return step;
  }
}
