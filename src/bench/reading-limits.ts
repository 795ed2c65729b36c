/** Readings that no transistor gives, and why. */
import type { MaterialName } from "../devices/material.ts";
import type { TestCircuit, TestReadings } from "./transistor-test.ts";

interface Reason {
  readonly message: string;
  readonly hint: string;
}

/** Collector-emitter voltage below which a transistor is saturated and tells nothing of its hfe, V. */
const SATURATED = { germanium: 0.3, silicon: 0.9 } as const;
const LEAST_HFE = 2;
const GREATEST_HFE = 2000;

const volts = (value: number) => `${Number(value.toPrecision(3))} V`;
const microamps = (value: number) => `${Number((1e6 * value).toPrecision(3))} µA`;

/** Why these readings are refused; nothing if a transistor may give them. */
export function refusalOf(
  test: TestCircuit,
  readings: TestReadings,
  material: MaterialName,
): Reason | undefined {
  const { openAmps, fedAmps } = readings;
  return (
    beyondSupply(test, "open", openAmps) ??
    beyondSupply(test, "fed", fedAmps) ??
    saturated(test, "open", openAmps, material) ??
    noGain(openAmps, fedAmps) ??
    saturated(test, "fed", fedAmps, material) ??
    noGermanium(openAmps, material) ??
    improbable(test, openAmps, fedAmps)
  );
}

function beyondSupply(test: TestCircuit, base: string, amps: number): Reason | undefined {
  const drop = amps * test.collectorOhms;
  if (!(amps >= 0)) {
    return {
      message: `the reading with the base ${base} gives a collector current below nothing (${microamps(amps)})`,
      hint: "readings are taken without sign; across the transistor they are at most the supply's voltage",
    };
  }
  if (drop <= test.supplyVolts * (1 + 1e-9)) return undefined;
  return {
    message: `with the base ${base} ${volts(drop)} would stand across the collector resistor, more than the supply of ${volts(test.supplyVolts)}`,
    hint: "check the supply, the collector resistor, and what the meter was connected to (--across)",
  };
}

function saturated(
  test: TestCircuit,
  base: "open" | "fed",
  amps: number,
  material: MaterialName,
): Reason | undefined {
  const left = test.supplyVolts - amps * test.collectorOhms;
  if (left >= SATURATED[material]) return undefined;
  const message = `with the base ${base} only ${volts(Math.max(0, left))} is left across the transistor`;
  return base === "open"
    ? {
        message: `${message}: it conducts without being told to`,
        hint: "shorted or leaking past all use, or connected the wrong way round (polarity, pins)",
      }
    : {
        message: `${message}: it is saturated and hides its hfe`,
        hint: "test with a smaller collector resistor or a larger base resistor",
      };
}

function noGain(openAmps: number, fedAmps: number): Reason | undefined {
  if (fedAmps > openAmps) return undefined;
  return {
    message: `feeding the base draws no more collector current (${microamps(fedAmps)}) than leaving it open (${microamps(openAmps)})`,
    hint: "are the two readings exchanged, the pins right, the base open inside?",
  };
}

function noGermanium(openAmps: number, material: MaterialName): Reason | undefined {
  if (openAmps > 0 || material === "silicon") return undefined;
  return {
    message: "no germanium transistor leaks nothing at all with the base open",
    hint: "read to the millivolt; if it stays at nothing it is silicon (--silicon), or not connected",
  };
}

function improbable(test: TestCircuit, openAmps: number, fedAmps: number): Reason | undefined {
  const hfe = (fedAmps - openAmps) / (test.supplyVolts / test.baseOhms);
  if (hfe >= LEAST_HFE && hfe <= GREATEST_HFE) return undefined;
  const shown = Number(hfe.toPrecision(2));
  return hfe < LEAST_HFE
    ? {
        message: `these readings give an hfe of ${shown}, which is no transistor's`,
        hint: "emitter and collector exchanged, or a base resistor ten times what was said?",
      }
    : {
        message: `these readings give an hfe of ${shown}, more than a single transistor has`,
        hint: "a base resistor a tenth of what was said, or two transistors in one case?",
      };
}
