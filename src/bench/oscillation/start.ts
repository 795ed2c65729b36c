import type { Circuit, Part } from "../../circuit/circuit.ts";
import { withPartStates } from "../../circuit/conditions.ts";
import type { Pencil } from "../../engine/natural/pencil.ts";
import type { Mode } from "../../engine/natural/refine.ts";
import type { SolvedMode } from "../run.ts";
import { lastGrowth, Variation } from "./follow.ts";
import { hfeOf } from "./participation.ts";
import type { Participant, StartLimit, StartMargin } from "./results.ts";

/** hfe and EMF are lowered to this share. */
const LEAST_SHARE = 0.02;
/** Added losses: from nearly nothing across (or in series) to nearly a short (or a cut). */
const ACROSS: readonly [number, number] = [100e6, 0.1];
const IN_SERIES: readonly [number, number] = [1e-3, 100e3];

const COILS = new Set(["inductor", "head", "transformer"]);

/** What the oscillation still starts with: weaker transistor, flatter battery, more loss in the tank. */
export function startMargin(solved: SolvedMode, mode: Mode, parts: readonly Participant[]): StartMargin {
  const search = new Search(solved, mode);
  const { circuit } = solved;
  const strongest = (among: (part: Part) => boolean) =>
    parts.map(({ part: name }) => circuit.parts.find((part) => part.name === name)!).find(among);
  const transistor = strongest(({ kind }) => kind === "transistor");
  const capacitor = strongest(({ kind }) => kind === "capacitor" || kind === "electrolytic");
  const coil = strongest(({ kind }) => COILS.has(kind));
  const batteries = circuit.parts.filter(({ kind, values }) => kind === "battery" && (values.emf ?? 0) > 0);
  const across = coil === undefined ? undefined : (capacitor ?? coil);
  const margin = {
    ...(transistor && { transistor: search.hfe(transistor) }),
    batteries: batteries.map((battery) => search.battery(battery)),
    ...(across && { across: search.across(across) }),
    ...(coil && { in_series: search.inSeries(coil) }),
  };
  search.done();
  return margin;
}

/** From `from` to `to`, evenly in the logarithm. */
const logarithmic = ([from, to]: readonly [number, number], t: number) => from * (to / from) ** t;

class Search {
  readonly #circuit: Circuit;
  readonly #variation: Variation;
  readonly #mode: Mode;
  readonly #solved: SolvedMode;

  constructor(solved: SolvedMode, mode: Mode) {
    this.#solved = solved;
    this.#circuit = solved.circuit;
    this.#variation = new Variation(solved);
    this.#mode = mode;
  }

  done(): void {
    this.#variation.restore();
  }

  #limit(
    part: string,
    range: readonly [number, number],
    way: (value: number) => Pencil | undefined,
  ): StartLimit {
    this.#variation.restore();
    const end = lastGrowth((t) => way(logarithmic(range, t)), this.#mode);
    return { part, tried: range[1], ...(end !== undefined && { value: logarithmic(range, end) }) };
  }

  #with(part: Part, key: string) {
    return (value: number) =>
      this.#variation.pencil(withPartStates(this.#circuit, [{ part: part.name, key, value }]));
  }

  hfe(part: Part): NonNullable<StartMargin["transistor"]> {
    const hfe = hfeOf(part, this.#circuit);
    const { value, tried } = this.#limit(part.name, [hfe, LEAST_SHARE * hfe], this.#with(part, "hfe"));
    return { part: part.name, hfe, tried_hfe: tried, ...(value !== undefined && { least_hfe: value }) };
  }

  battery(part: Part): StartLimit {
    const emf = part.values.emf!;
    return this.#limit(part.name, [emf, LEAST_SHARE * emf], this.#with(part, "emf"));
  }

  /** A resistor for signals only, from the part's first pin to its last. */
  across(part: Part): StartLimit {
    const { net } = this.#solved.point.network.unknowns;
    const ends = [net[part.pins[0]!.net]!, net[part.pins.at(-1)!.net]!] as const;
    return this.#limit(part.name, ACROSS, (ohms) => {
      const pencil = this.#variation.pencil(this.#circuit);
      return pencil && bridged(pencil, ends, 1 / ohms);
    });
  }

  inSeries(part: Part): StartLimit {
    return this.#limit(part.name, IN_SERIES, (ohms) =>
      this.#variation.pencil(withSeries(this.#circuit, part, ohms)),
    );
  }
}

/** The pencil with a conductance between the ends of a part; what falls to chassis is left out. */
function bridged(pencil: Pencil, [a, b]: readonly [number, number], siemens: number): Pencil {
  const { size } = pencil.pattern;
  const row = [...pencil.pattern.row];
  const column = [...pencil.pattern.column];
  const [g, c] = [[...pencil.g], [...pencil.c]];
  const add = (r: number, k: number, value: number) => {
    if (r >= size || k >= size) return;
    const slot = row.findIndex((each, s) => each === r && column[s] === k);
    if (slot >= 0) {
      g[slot]! += value;
      return;
    }
    row.push(r);
    column.push(k);
    g.push(value);
    c.push(0);
  };
  add(a, a, siemens);
  add(b, b, siemens);
  add(a, b, -siemens);
  add(b, a, -siemens);
  const pattern = { size, row: Int32Array.from(row), column: Int32Array.from(column) };
  return { ...pencil, pattern, g: Float64Array.from(g), c: Float64Array.from(c) };
}

/** The circuit with more resistance in a coil; of a transformer, in its first winding. */
function withSeries(circuit: Circuit, coil: Part, ohms: number): Circuit {
  const lossy = (part: Part): Part => {
    const [first, ...others] = part.windings ?? [];
    if (first !== undefined) return { ...part, windings: [{ ...first, dcr: first.dcr + ohms }, ...others] };
    return { ...part, values: { ...part.values, dcr: (part.values.dcr ?? 0) + ohms } };
  };
  return { ...circuit, parts: circuit.parts.map((part) => (part.name === coil.name ? lossy(part) : part)) };
}
