import { harmonicOf, isSine } from "./fourier.ts";
import type { SampledDevice } from "./sampled-device.ts";

/** A device with the ports that it acts on; −1 for what is no unknown. */
export interface PortDevice {
  readonly harmonics: SampledDevice;
  readonly ports: readonly number[];
  /** Its local unknowns at the operating point. */
  readonly fixed: Float64Array;
  /** Tangents there. */
  readonly slope: Float64Array;
  readonly capacitance: Float64Array;
}

/** ±kω: what d/dt makes of the coefficient of the partner of a block. */
export const turnOf = (block: number, omega: number): number =>
  (isSine(block) ? -1 : 1) * harmonicOf(block) * omega;
