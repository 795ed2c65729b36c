import type { Circuit, DeviceType, Part } from "../../src/circuit/circuit.ts";

const place = { file: "built", line: 1, column: 1 };

/** A part as tests write it: kind, name, values, and the net of each pin in order. */
export interface Draft extends Partial<Omit<Part, "pins">> {
  readonly kind: string;
  readonly name: string;
  readonly nets: readonly string[];
}

export const draft = (
  kind: string,
  name: string,
  values: Record<string, number>,
  ...nets: string[]
): Draft => ({
  kind,
  name,
  values,
  nets,
});

export const ohms = (name: string, resistance: number, a: string, b: string) =>
  draft("resistor", name, { resistance }, a, b);
export const farads = (name: string, capacitance: number, a: string, b: string) =>
  draft("capacitor", name, { capacitance }, a, b);
export const battery = (name: string, emf: number, plus: string, minus: string, internal = 0) =>
  draft("battery", name, { emf, internal }, plus, minus);
export const generator = (name: string, a: string, b: string, source = 0) =>
  draft("generator", name, { emf: 1, source }, a, b);
export const transistor = (name: string, type: string, e: string, b: string, c: string): Draft => ({
  ...draft("transistor", name, {}, e, b, c),
  type,
});

export const deviceType = (
  name: string,
  device: DeviceType["device"],
  figures: Record<string, number>,
  material: DeviceType["material"] = "germanium",
): DeviceType => ({ name, device, material, figures, place });

/** A circuit without text: nets are numbered as they appear, `chassis` first. */
export function build(drafts: readonly Draft[], types: readonly DeviceType[] = []): Circuit {
  const names = [...new Set(["chassis", ...drafts.flatMap(({ nets }) => nets)])];
  const parts = drafts.map(
    ({ nets, ...rest }): Part => ({
      values: {},
      choices: {},
      place,
      ...rest,
      pins: nets.map((net, k) => ({ name: String(k + 1), net: names.indexOf(net) })),
    }),
  );
  const points = (net: number) =>
    parts.flatMap((part) =>
      part.pins.filter((pin) => pin.net === net).map((pin) => `${part.name}.${pin.name}`),
    );
  return {
    title: "built",
    ambientCelsius: 25,
    nets: names.map((name, k) => ({ name, points: points(k) })),
    parts,
    types: Object.fromEntries(types.map((type) => [type.name, type])),
    modes: [],
    paths: [],
    readings: [],
    printed: [],
  };
}
