/** Results made by hand: a small recorder of no particular make, and responses with known corners. */
import type { NetVoltage, PathResponse, TransistorReading, VoltageChart } from "../../src/bench/results.ts";
import type { Circuit, DeviceType, GivenVoltage, Net, Part } from "../../src/circuit/circuit.ts";

const place = { file: "made-up.netlist", line: 1, column: 1 };

const deviceType = (name: string, device: "pnp" | "npn"): DeviceType => ({
  name,
  device,
  material: "germanium",
  figures: {},
  place,
});

const part = (name: string, kind: string): Part => ({
  name,
  kind,
  pins: [],
  values: {},
  choices: {},
  place,
});

const nets: readonly Net[] = [
  { name: "chassis", points: ["B1.plus", "R9.2"] },
  { name: "rail", points: ["B1.minus", "R4.1", "LS1.1"] },
  { name: "quiet", points: ["R4.2", "C5.minus"] },
  { name: "T1.e", points: ["T1.e", "R2.1"] },
  { name: "T1.b", points: ["T1.b", "R1.1"] },
  { name: "T1.c", points: ["T1.c", "R3.1"] },
  { name: "T2.e", points: ["T2.e", "R5.1"] },
  { name: "bias", points: ["T2.b", "R6.1", "TH1.1"] },
  { name: "T2.c", points: ["T2.c", "TR1.primary.1"] },
  { name: "input", points: ["C1.1", "K1.1"] },
  { name: "R6.2", points: ["R6.2", "S1.a.play"] },
];

const given = (mode: string, net: string, volts: number): GivenVoltage => ({
  mode,
  net: nets.findIndex(({ name }) => name === net),
  point: net,
  volts,
  place,
});

export const circuit: Circuit = {
  title: "Aspen 2, first stage and driver",
  ambientCelsius: 25,
  nets,
  parts: [part("B1", "battery"), part("R4", "resistor"), part("T1", "transistor"), part("T2", "transistor")],
  types: { LN: deviceType("LN", "pnp"), PW: deviceType("PW", "pnp") },
  modes: [],
  paths: [],
  readings: [],
  printed: [given("play", "T1.c", -3.1), given("record", "T1.c", -3.2), given("play", "rail", -9)],
};

const transistor = (
  type: string,
  [e, b, c]: readonly [number, number, number],
  milliamps: number,
  more: Partial<TransistorReading> = {},
): TransistorReading => ({
  type,
  e_volts: e,
  b_volts: b,
  c_volts: c,
  ic_amps: -milliamps / 1e3,
  ib_amps: -milliamps / 60e3,
  ie_amps: (milliamps * (1 + 1 / 60)) / 1e3,
  vbe_volts: b - e,
  vce_volts: c - e,
  gm_siemens: milliamps / 26,
  junction_celsius: 25 + 0.3 * milliamps * Math.abs(c - e),
  dissipation_watts: (milliamps * Math.abs(c - e)) / 1e3,
  region: "active",
  ...more,
});

function netVoltages(volts: Readonly<Record<string, number>>, floating: readonly string[] = []) {
  return Object.fromEntries(
    nets.map(({ name, points }): [string, NetVoltage] => [
      name,
      {
        volts: volts[name] ?? 0,
        points,
        ...(floating.includes(name) && { floating: true as const }),
      },
    ]),
  );
}

export const play: VoltageChart = {
  mode: "play",
  ambient_celsius: 25,
  residual_amps: 3.2e-15,
  nets: netVoltages({
    rail: -8.9963,
    quiet: -8.4812,
    "T1.e": -1.3107,
    "T1.b": -1.4321,
    "T1.c": -3.1044,
    "T2.e": -0.1031,
    bias: -0.2312,
    "T2.c": -8.7104,
    "R6.2": -0.4401,
  }),
  transistors: {
    T1: transistor("LN", [-1.3107, -1.4321, -3.1044], 0.8721),
    T2: transistor("PW", [-0.1031, -0.2312, -8.7104], 4.312),
  },
  parts: {
    B1: { volts: 8.9963, amps: -0.012345, watts: -0.11106 },
    R4: { volts: -0.5151, amps: -0.00234, watts: 0.0012 },
  },
};

export const record: VoltageChart = {
  mode: "record",
  ambient_celsius: 25,
  residual_amps: 1.1e-15,
  nets: netVoltages(
    {
      rail: -8.9822,
      quiet: -8.4611,
      "T1.e": -1.3095,
      "T1.b": -1.4308,
      "T1.c": -4.2187,
      "T2.e": -0.0002,
      bias: 0.0512,
      "T2.c": -8.9815,
    },
    ["R6.2"],
  ),
  transistors: {
    T1: transistor("LN", [-1.3095, -1.4308, -4.2187], 0.8695),
    T2: transistor("PW", [-0.0002, 0.0512, -8.9815], 0.0041, { region: "cut off" }),
  },
  parts: {
    B1: { volts: 8.9822, amps: -0.024871, watts: -0.2234 },
    R4: { volts: -0.5211, amps: -0.00237, watts: 0.00123 },
  },
};

/** The chart with what a meter shows: a little less, everywhere. */
export const metered = (chart: VoltageChart): VoltageChart => ({
  ...chart,
  nets: Object.fromEntries(
    Object.entries(chart.nets).map(([name, net]) => [name, { ...net, reading_volts: 0.97 * net.volts }]),
  ),
});

/** Frequencies from `low` to `high` Hz, so many an octave. */
export function sweep(low: number, high: number, perOctave = 6): readonly number[] {
  const count = Math.floor(Math.log2(high / low) * perOctave + 1e-9);
  return Array.from({ length: count + 1 }, (_, i) => low * 2 ** (i / perOctave));
}

interface Shape {
  readonly path: string;
  readonly mode?: string;
  readonly quantity?: PathResponse["quantity"];
  /** Midband gain, V/V or A/V. */
  readonly gain: number;
  /** First-order corners, Hz; how many low-pass corners fall together. */
  readonly low: number;
  readonly high: number;
  readonly order?: number;
  readonly hertz?: readonly number[];
}

/** A band-pass of first-order corners, in closed form. */
export function response({ order = 1, quantity = "voltage", ...shape }: Shape): PathResponse {
  const hertz = shape.hertz ?? sweep(20, 20480);
  const values = hertz.map((f) => {
    const magnitude =
      (shape.gain / Math.hypot(1, shape.low / f)) * (1 / Math.hypot(1, f / shape.high)) ** order;
    const angle = Math.atan(shape.low / f) - order * Math.atan(f / shape.high);
    return { magnitude, angle };
  });
  return {
    path: shape.path,
    mode: shape.mode ?? "play",
    from: "K1",
    to: quantity === "voltage" ? "LS1 voltage" : "K2 current",
    quantity,
    hertz,
    gain_db: values.map(({ magnitude }) => 20 * Math.log10(magnitude)),
    phase_degrees: values.map(({ angle }) => principal((angle * 180) / Math.PI)),
    real: values.map(({ magnitude, angle }) => magnitude * Math.cos(angle)),
    imag: values.map(({ magnitude, angle }) => magnitude * Math.sin(angle)),
  };
}

const principal = (degrees: number): number => degrees - 360 * Math.round(degrees / 360);

export const playback = response({ path: "playback", gain: 1300, low: 60, high: 9e3, order: 3 });
export const recording = response({
  path: "recording",
  mode: "record",
  gain: 250,
  low: 30,
  high: 14e3,
  order: 2,
});
export const headCurrent = response({
  path: "recording",
  mode: "record",
  quantity: "current",
  gain: 0.08,
  low: 30,
  high: 14e3,
  order: 2,
});

/** A path with no output at all. */
export const dumb: PathResponse = {
  ...playback,
  path: "dumb",
  gain_db: playback.hertz.map(() => Number.NEGATIVE_INFINITY),
  phase_degrees: playback.hertz.map(() => 0),
  real: playback.hertz.map(() => 0),
  imag: playback.hertz.map(() => 0),
};
