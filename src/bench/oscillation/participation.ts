import type { Circuit, Part } from "../../circuit/circuit.ts";
import { withPartStates } from "../../circuit/conditions.ts";
import { ZERO_CELSIUS } from "../../devices/constants.ts";
import { DEFAULT_HFE } from "../../devices/transistor-parameters.ts";
import type { Mode } from "../../engine/natural/refine.ts";
import {
  type ComplexVector,
  dot,
  multiply,
  product,
  quotient,
  size,
  vectorOf,
} from "../../engine/natural/vector.ts";
import { isSolved } from "../../engine/operating-point.ts";
import { type Phasor, SmallSignal } from "../../engine/small-signal.ts";
import { kindOf } from "../../parts/index.ts";
import type { SolvedMode } from "../run.ts";
import type { Participant } from "./results.ts";

/** Relative change of a value for its derivative, by which its error is, too. */
const NUDGE = 1e-4;
/** Parts with less of the strongest's share are not listed. */
const LEAST_SHARE = 0.01;
/** What takes no part in the alternating currents, or is no value of its own. */
const LEFT_OUT = new Set(["rated", "emf", "coupling", "gap", "spacing", "coating", "full"]);

/** dG and dC, by slot, for a value made greater by the share 1 of itself. */
interface Slope {
  readonly part: string;
  /** The value that the part is called by. */
  readonly main: boolean;
  readonly g: Float64Array;
  readonly c: Float64Array;
}

/** A device's own conductances and capacitances, by slot, and the unknowns whose rows they stand in. */
interface DeviceBlock extends Pick<Slope, "part" | "g" | "c"> {
  readonly rows: readonly number[];
}

/** hfe of a transistor as it stands in the circuit, at the first point of its sheet. */
export const hfeOf = (part: Part, { types }: Circuit): number =>
  part.values.hfe ?? types[part.type ?? ""]?.figures.hfe ?? DEFAULT_HFE;

/** Properties whose values scale; a core's setting moves both ends of its range. */
function scalable(part: Part): string[][] {
  const { bare = [], words = {} } = kindOf(part);
  if (part.kind === "transistor") return [["hfe"]];
  if (part.values["setting.from"] !== undefined) return [["inductance", "setting.from", "setting.to"]];
  return [...bare, ...Object.values(words)]
    .filter(({ key, unit }) => !LEFT_OUT.has(key) && unit !== "percent" && (part.values[key] ?? 0) > 0)
    .map(({ key }) => [key]);
}

/**
 * Who takes part in the natural frequencies, from ds = −leftᵀ(dG + s·dC)right / leftᵀ·C·right: for each
 * part what a relative change of its value does to s, operating point and all; of a device, what its own
 * conductances and capacitances do.
 */
export class Participation {
  readonly #solved: SolvedMode;
  readonly #pattern: SmallSignal["pattern"];
  readonly #slopes: readonly Slope[];
  readonly #devices: readonly DeviceBlock[];

  constructor(solved: SolvedMode, smallSignal: SmallSignal) {
    this.#solved = solved;
    this.#pattern = smallSignal.pattern;
    this.#devices = deviceBlocks(solved, smallSignal);
    this.#slopes = this.#allSlopes();
  }

  /** The parts of a mode, strongest first. */
  of(mode: Mode): Participant[] {
    const strength = new Map<string, number>();
    const sensitivity = new Map<string, Phasor>();
    for (const device of this.#devices) strength.set(device.part, this.#exchange(device, mode));
    const own = new Set(strength.keys());
    for (const slope of this.#slopes) {
      const ds = this.#change(slope, mode);
      if (slope.main) sensitivity.set(slope.part, ds);
      if (!own.has(slope.part)) strength.set(slope.part, Math.max(size(ds), strength.get(slope.part) ?? 0));
    }
    const largest = Math.max(...strength.values(), Number.MIN_VALUE);
    return [...strength]
      .filter(([, share]) => share >= LEAST_SHARE * largest)
      .sort(([, a], [, b]) => b - a)
      .map(([part, share]) => described(part, share / largest, sensitivity.get(part), mode.s));
  }

  #change({ g, c }: Slope, { s, right, left, norm }: Mode): Phasor {
    const y = vectorOf(right.re.length);
    multiply(this.#pattern, g, right, y);
    const byG = dot(left, y);
    multiply(this.#pattern, c, right, y);
    const byC = product(s, dot(left, y));
    const { re, im } = quotient({ re: byG.re + byC.re, im: byG.im + byC.im }, norm);
    return { re: -re, im: -im };
  }

  /** What each pin of a device contributes to s, against its first pin, signs aside. */
  #exchange({ g, c, rows }: DeviceBlock, { s, right, left, norm }: Mode): number {
    const current = vectorOf(right.re.length);
    multiply(this.#pattern, g, right, current);
    const charge = vectorOf(right.re.length);
    multiply(this.#pattern, c, right, charge);
    const at = ({ re, im }: ComplexVector, k: number) => ({ re: re[k] ?? 0, im: im[k] ?? 0 });
    const [first = 0, ...others] = rows;
    const sum = others.reduce((total, row) => {
      const byCharge = product(s, at(charge, row));
      const amps = { re: at(current, row).re + byCharge.re, im: at(current, row).im + byCharge.im };
      const [there, here] = [at(left, row), at(left, first)];
      return total + size(product({ re: there.re - here.re, im: there.im - here.im }, amps));
    }, 0);
    return sum / size(norm);
  }

  #allSlopes(): Slope[] {
    const { circuit, solver, point } = this.#solved;
    const celsius = point.network.ambientKelvin - ZERO_CELSIUS;
    const state = point.state.slice();
    const nudged = new SmallSignal(point);
    const [g, c] = [nudged.g.slice(), nudged.c.slice()];
    const slopes = circuit.parts.flatMap((part) =>
      scalable(part).flatMap((keys, k): Slope[] => {
        if (!solver.retune(withPartStates(circuit, greater(part, keys, circuit)), celsius)) return [];
        const moved = solver.solve(state);
        if (!isSolved(moved)) return [];
        nudged.linearise(moved.state);
        const by = (before: Float64Array, after: Float64Array) =>
          before.map((value, slot) => (after[slot]! - value) / NUDGE);
        return [{ part: part.name, main: k === 0, g: by(g, nudged.g), c: by(c, nudged.c) }];
      }),
    );
    solver.retune(circuit, celsius);
    return slopes;
  }
}

const greater = (part: Part, keys: readonly string[], circuit: Circuit) =>
  keys.flatMap((key) => {
    const value = key === "hfe" ? hfeOf(part, circuit) : part.values[key];
    return value === undefined ? [] : [{ part: part.name, key, value: value * (1 + NUDGE) }];
  });

/** The linearised devices' own shares of G and C. */
function deviceBlocks({ circuit, point }: SolvedMode, { pattern }: SmallSignal): DeviceBlock[] {
  const slots = new Map<number, number>();
  for (let slot = 0; slot < pattern.row.length; slot++)
    slots.set(pattern.row[slot]! * pattern.size + pattern.column[slot]!, slot);
  return point.network.devices.map(({ device, part, locals }) => {
    const x = Float64Array.from(locals, (k) => point.state[k]!);
    const load = { current: new Float64Array(device.size), slope: new Float64Array(device.size ** 2) };
    const collect = () => {
      const values = new Float64Array(pattern.row.length);
      load.slope.forEach((value, entry) => {
        const row = locals[Math.floor(entry / device.size)]!;
        const column = locals[entry % device.size]!;
        const slot =
          row < pattern.size && column < pattern.size ? slots.get(row * pattern.size + column) : undefined;
        if (slot !== undefined) values[slot]! += value;
      });
      return values;
    };
    device.evaluate(x, load);
    const g = collect();
    device.charges(x, load);
    // the chassis stays among the rows: its vectors are 0
    const heat = point.network.unknowns.temperature.get(circuit.parts[part]!.name);
    const rows = [...locals].filter((k) => k !== heat);
    return { part: circuit.parts[part]!.name, g, c: collect(), rows };
  });
}

function described(part: string, participation: number, ds: Phasor | undefined, s: Phasor): Participant {
  if (ds === undefined) return { part, participation };
  return {
    part,
    participation,
    ...(s.im > 0 && { hertz_per_percent: ds.im / (200 * Math.PI) }),
    growth_per_percent: ds.re / 100,
  };
}
