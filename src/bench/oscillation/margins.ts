import type { Circuit, Part } from "../../circuit/circuit.ts";
import { withPartStates } from "../../circuit/conditions.ts";
import { distance, size } from "../../engine/natural/vector.ts";
import { growingFrequencies } from "../../engine/natural-frequencies.ts";
import type { Phasor } from "../../engine/small-signal.ts";
import type { SolvedMode } from "../run.ts";
import { Variation } from "./follow.ts";
import type { SupplyLimit, SupplyMargins } from "./results.ts";

/** Steps of the search, as factors of the value; the first that makes something else grow is closed in on. */
const GREATER = [1, 4, 16, 64, 256];
const LESS = [1 / 3, 1 / 10, 1 / 100, 1 / 1000];
const LEAST_OHMS = 1;
const HALVINGS = 7;
/** A capacitor smaller than this decouples no supply, F. */
const SMALLEST = 1e-6;

/** How far batteries may age and decoupling capacitors dry out before something beyond `growing` (rad/s) grows. */
export function supplyMargins(solved: SolvedMode, growing: readonly Phasor[]): SupplyMargins {
  const { circuit } = solved;
  const supply = supplyNets(circuit);
  const search = new Search(solved, growing);
  const margins = {
    batteries: circuit.parts
      .filter(({ kind }) => kind === "battery")
      .map((part) =>
        search.limit(part, "internal", Math.max(part.values.internal ?? 0, LEAST_OHMS), GREATER),
      ),
    capacitors: circuit.parts
      .filter((part) => decouples(part, supply))
      .map((part) => search.limit(part, "capacitance", part.values.capacitance ?? 0, LESS)),
  };
  search.done();
  return margins;
}

/** Chassis and the poles of batteries. */
const supplyNets = ({ parts }: Circuit): ReadonlySet<number> =>
  new Set([
    0,
    ...parts.filter(({ kind }) => kind === "battery").flatMap(({ pins }) => pins.map(({ net }) => net)),
  ]);

const decouples = ({ kind, values, pins }: Part, supply: ReadonlySet<number>): boolean =>
  (kind === "electrolytic" || kind === "capacitor") &&
  (values.capacitance ?? 0) >= SMALLEST &&
  pins.some(({ net }) => supply.has(net));

/** Those of `found` left over when each known one has taken its nearest. */
function unlike(found: readonly Phasor[], known: readonly Phasor[]): readonly Phasor[] {
  return known.reduce<readonly Phasor[]>((left, s) => {
    const far = (other: Phasor) => distance(other, s) / size(other);
    const nearest = left.reduce((a, b) => (far(b) < far(a) ? b : a));
    return left.filter((other) => other !== nearest);
  }, found);
}

class Search {
  readonly #circuit: Circuit;
  readonly #variation: Variation;
  readonly #growing: readonly Phasor[];

  constructor(solved: SolvedMode, growing: readonly Phasor[]) {
    this.#circuit = solved.circuit;
    this.#variation = new Variation(solved);
    this.#growing = growing;
  }

  done(): void {
    this.#variation.restore();
  }

  /** Frequency of what grows beyond what does anyway, Hz; `undefined` if nothing, "none" without a point. */
  #trouble(part: Part, key: string, value: number): number | "none" | undefined {
    const states = [{ part: part.name, key, value }];
    const pencil = this.#variation.pencil(withPartStates(this.#circuit, states));
    if (pencil === undefined) return "none";
    const found = growingFrequencies(pencil);
    if (found.length <= this.#growing.length) return undefined;
    return Math.min(...unlike(found, this.#growing).map(({ im }) => im)) / (2 * Math.PI);
  }

  limit(part: Part, key: string, value: number, factors: readonly number[]): SupplyLimit {
    this.#variation.restore();
    let tried = value;
    for (const factor of factors) {
      const hertz = this.#trouble(part, key, value * factor);
      if (hertz === "none") break;
      if (hertz !== undefined)
        return { part: part.name, ...this.#close(part, key, tried, value * factor, hertz) };
      tried = value * factor;
    }
    return { part: part.name, tried };
  }

  #close(part: Part, key: string, good: number, bad: number, trouble: number) {
    let [sound, unsound, hertz] = [good, bad, trouble];
    for (let halving = 0; halving < HALVINGS; halving++) {
      const middle = Math.sqrt(sound * unsound);
      const found = this.#trouble(part, key, middle);
      if (found === undefined || found === "none") sound = middle;
      else [unsound, hertz] = [middle, found];
    }
    return { limit: sound, tried: bad, hertz };
  }
}
