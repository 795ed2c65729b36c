/** The simple test of a transistor from the drawer: a supply, a collector and a base resistor. */
import type { Circuit, DeviceType, Part } from "../circuit/circuit.ts";
import { currentInto } from "../engine/currents.ts";
import { network } from "../engine/network.ts";
import { isSolved, OperatingPointSolver } from "../engine/operating-point.ts";

/** The test circuit. The emitter goes to one pole of the supply, both resistors to the other. */
export interface TestCircuit {
  readonly supplyVolts: number;
  /** 0 where a current meter alone is in the collector's lead. */
  readonly collectorOhms: number;
  readonly baseOhms: number;
  /** Of the air, at the time of the readings, °C. */
  readonly celsius: number;
}

/** Collector current with the base open and with the base fed, A. */
export interface TestReadings {
  readonly openAmps: number;
  readonly fedAmps: number;
}

const PLACE = { file: "transistor test", line: 1, column: 1 };
const SAMPLE = "T1";

const part = (name: string, kind: string, pins: Part["pins"], more: Partial<Part> = {}): Part => ({
  name,
  kind,
  pins,
  values: {},
  choices: {},
  place: PLACE,
  ...more,
});

/** The test circuit with a sample of `type` in it, its base open or fed. */
export function testCircuit(test: TestCircuit, type: DeviceType, base: "open" | "fed"): Circuit {
  const [chassis, rail, collector, foot] = [0, 1, 2, 3];
  const collectorNet = test.collectorOhms > 0 ? collector : rail;
  const [plus, minus] = type.device === "pnp" ? [chassis, rail] : [rail, chassis];
  const resistor = (name: string, ohms: number, net: number) =>
    part(
      name,
      "resistor",
      [
        { name: "1", net: rail },
        { name: "2", net },
      ],
      { values: { resistance: ohms } },
    );
  return {
    title: "transistor test",
    ambientCelsius: test.celsius,
    nets: ["chassis", "rail", "T1.c", "T1.b"].map((name) => ({ name, points: [] })),
    parts: [
      part(
        SAMPLE,
        "transistor",
        [
          { name: "e", net: chassis },
          { name: "b", net: foot },
          { name: "c", net: collectorNet },
        ],
        { type: type.name },
      ),
      part(
        "B1",
        "battery",
        [
          { name: "plus", net: plus },
          { name: "minus", net: minus },
        ],
        { values: { emf: test.supplyVolts, internal: 0 } },
      ),
      ...(test.collectorOhms > 0 ? [resistor("R1", test.collectorOhms, collector)] : []),
      ...(base === "fed" ? [resistor("R2", test.baseOhms, foot)] : []),
    ],
    types: { [type.name]: type },
    modes: [],
    paths: [],
    readings: [],
    printed: [],
  };
}

/** The collector current of a sample of `type`, A; nothing where the heat does not balance. */
function collectorCurrent(test: TestCircuit, type: DeviceType, base: "open" | "fed"): number | undefined {
  const circuit = testCircuit(test, type, base);
  const solver = new OperatingPointSolver(
    network(circuit, { ambientCelsius: test.celsius, isothermal: false }),
  );
  const point = solver.solve();
  return isSolved(point) ? Math.abs(currentInto(point.currents, 0, 2)) : undefined;
}

/** What a sample of `type` reads in the test; nothing where it has no operating point. */
export function testReadings(test: TestCircuit, type: DeviceType): TestReadings | undefined {
  const openAmps = collectorCurrent(test, type, "open");
  const fedAmps = collectorCurrent(test, type, "fed");
  return openAmps === undefined || fedAmps === undefined ? undefined : { openAmps, fedAmps };
}
