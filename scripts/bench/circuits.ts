import type { Circuit, DeviceType, Part } from "../../src/circuit/circuit.ts";

/** Large circuits of three kinds, as data: no text is read. */
export const KINDS = {
  ladder: "RC ladder",
  grid: "2-D grid",
  chain: "chain of transistor stages",
} as const;

export type Kind = keyof typeof KINDS;

const place = { file: "built", line: 1, column: 1 };

/** Parts on numbered nets; a net is made when it is first mentioned. */
class Drawing {
  readonly parts: Part[] = [];
  nets = 1;

  net(): number {
    return this.nets++;
  }

  add(kind: string, values: Record<string, number>, nets: readonly number[], type?: string): void {
    const pins = nets.map((net, k) => ({ name: String(k + 1), net }));
    const name = `${kind}${this.parts.length}`;
    this.parts.push({ name, kind, values, choices: {}, pins, place, ...(type !== undefined && { type }) });
  }

  ohms(resistance: number, a: number, b: number): void {
    this.add("resistor", { resistance }, [a, b]);
  }

  farads(capacitance: number, a: number, b: number): void {
    this.add("capacitor", { capacitance }, [a, b]);
  }

  finish(types: Record<string, DeviceType> = {}): Circuit {
    const nets = Array.from({ length: this.nets }, (_, k) => ({
      name: k === 0 ? "chassis" : `n${k}`,
      points: [],
    }));
    return {
      title: "built",
      ambientCelsius: 25,
      nets,
      parts: this.parts,
      types,
      modes: [],
      paths: [],
      readings: [],
      printed: [],
    };
  }
}

/** A circuit of about so many nodes; part 0 is its generator. */
export function circuitOf(kind: Kind, nodes: number): Circuit {
  return { ladder, grid, chain }[kind](nodes);
}

/** Fed by a generator of 600 Ω and, for direct current, by a cell through 1 MΩ. */
function fed(): { drawing: Drawing; input: number } {
  const drawing = new Drawing();
  const [input, cell] = [drawing.net(), drawing.net()];
  drawing.add("generator", { emf: 1, source: 600 }, [input, 0]);
  drawing.add("battery", { emf: 1.5, internal: 0 }, [cell, 0]);
  drawing.ohms(1e6, cell, input);
  return { drawing, input };
}

function ladder(nodes: number): Circuit {
  const { drawing, input } = fed();
  let last = input;
  for (let k = 2; k < nodes; k++) {
    const next = drawing.net();
    drawing.ohms(100, last, next);
    drawing.farads(1e-9, next, 0);
    if (k % 10 === 0) drawing.ohms(1e5, next, 0);
    last = next;
  }
  return drawing.finish();
}

function grid(nodes: number): Circuit {
  const { drawing, input } = fed();
  const side = Math.round(Math.sqrt(nodes));
  const net: number[] = [];
  for (let k = 0; k < side * side; k++) {
    net.push(k === 0 ? input : drawing.net());
    if (k % side > 0) drawing.ohms(100, net[k - 1]!, net[k]!);
    if (k >= side) drawing.ohms(100, net[k - side]!, net[k]!);
    drawing.farads(1e-9, net[k]!, 0);
    if (k % 10 === 9) drawing.ohms(1e5, net[k]!, 0);
  }
  return drawing.finish();
}

const TYPE: DeviceType = {
  name: "X",
  device: "pnp",
  material: "germanium",
  figures: {
    hfe: 70,
    "hfe.at": 1e-3,
    vbe: 0.12,
    "vbe.at": 1e-3,
    leakage: 4e-6,
    rbb: 0,
    early: 60,
    ft: 1.5e6,
  },
  place,
};

/** Common-emitter stages of low gain, each with base divider, coupled by capacitors: five nodes a stage. */
function chain(nodes: number): Circuit {
  const { drawing, input } = fed();
  let last = input;
  const stages = Math.floor((nodes - 2) / 5);
  for (let k = 0; k < stages; k++) {
    const [rail, e, b, c] = [drawing.net(), drawing.net(), drawing.net(), drawing.net()];
    drawing.add("battery", { emf: 9, internal: 1 }, [0, rail]);
    drawing.farads(10e-6, last, b);
    drawing.ohms(47e3, rail, b);
    drawing.ohms(10e3, b, 0);
    drawing.ohms(3.3e3, rail, c);
    drawing.ohms(1e3, e, 0);
    drawing.add("transistor", {}, [e, b, c], TYPE.name);
    // the next stage is fed what this one adds, so that levels stay within bounds over any length
    last = drawing.net();
    drawing.ohms(10e3, c, last);
    drawing.ohms(34.6e3, last, 0);
  }
  return drawing.finish({ [TYPE.name]: TYPE });
}
