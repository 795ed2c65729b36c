import type { DeviceType } from "../circuit/circuit.ts";
import { REFERENCE_KELVIN, thermalVoltage } from "../devices/constants.ts";
import { parametersOf } from "../parts/transistor.ts";

/** hfe of a transistor type at collector current `amps`, 25 °C, freed of leakage. */
export function gainAt(type: DeviceType, amps: number): number {
  const { forwardGain, kneeCurrent } = parametersOf(type);
  return forwardGain / (1 + amps / kneeCurrent);
}

/** Base-emitter voltage at collector current `amps`, 25 °C, without the drop in the base resistance, V. */
export function junctionVoltsAt(type: DeviceType, amps: number): number {
  const { saturationCurrent, kneeCurrent } = parametersOf(type);
  const injected = amps * (1 + amps / kneeCurrent);
  return thermalVoltage(REFERENCE_KELVIN) * Math.log1p(injected / saturationCurrent);
}
