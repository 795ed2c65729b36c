/** Power over a band of frequencies, of many contributions at once and under several weightings. */
import { gaussLegendre } from "./gauss.ts";

/** Contributions at one frequency (Hz), per hertz, written to `into`. */
export type Densities = (hertz: number, into: Float64Array) => void;

export interface Band {
  readonly from: number;
  readonly to: number;
}

const RULE = gaussLegendre(7);
/** Panels to an octave, before any is halved. */
const PANELS = 1;
/** A panel is halved no more often than this. */
const MOST_HALVINGS = 40;

/**
 * The integrals over the band of `count` contributions under each weighting (a factor of power by frequency),
 * one list a weighting. Panels lie on a logarithmic grid, and inside a panel the rule of Gauss is one over
 * frequency itself: what is flat comes out exact. A panel is halved until its halves agree with the whole to
 * `tolerance` of the total, under every weighting; with a tolerance of Infinity none is.
 */
export function integrate(
  densities: Densities,
  count: number,
  weightings: readonly ((hertz: number) => number)[],
  { from, to }: Band,
  tolerance: number,
): Float64Array[] {
  const density = new Float64Array(count);
  const panel = (low: number, high: number): Float64Array[] => {
    const sums = weightings.map(() => new Float64Array(count));
    RULE.nodes.forEach((node, i) => {
      const hertz = (low + high + node * (high - low)) / 2;
      densities(hertz, density);
      weightings.forEach((weighting, w) => {
        const width = (RULE.weights[i]! * (high - low) * weighting(hertz)) / 2;
        for (let k = 0; k < count; k++) sums[w]![k]! += width * density[k]!;
      });
    });
    return sums;
  };
  const edges = logarithmicEdges(from, to);
  const whole = edges.slice(1).map((high, i) => panel(edges[i]!, high));
  if (tolerance === Infinity) return whole.reduce(added);
  const grand = weightings.map((_, w) => whole.reduce((total, sums) => total + sum(sums[w]!), 0));
  const refine = (low: number, high: number, rough: Float64Array[], left: number): Float64Array[] => {
    const middle = Math.sqrt(low * high);
    const [below, above] = [panel(low, middle), panel(middle, high)];
    const halves = below.map((sums, w) => sums.map((value, k) => value + above[w]![k]!));
    const agree = halves.every((sums, w) => Math.abs(sum(sums) - sum(rough[w]!)) <= tolerance * grand[w]!);
    if (agree || left === 0) return halves;
    return added(refine(low, middle, below, left - 1), refine(middle, high, above, left - 1));
  };
  return whole.map((rough, i) => refine(edges[i]!, edges[i + 1]!, rough, MOST_HALVINGS)).reduce(added);
}

const sum = (values: Float64Array): number => values.reduce((total, value) => total + value, 0);

const added = (a: Float64Array[], b: Float64Array[]): Float64Array[] =>
  a.map((sums, w) => sums.map((value, k) => value + b[w]![k]!));

function logarithmicEdges(from: number, to: number): readonly number[] {
  const panels = Math.max(1, Math.ceil(PANELS * Math.log2(to / from) - 1e-9));
  return Array.from({ length: panels + 1 }, (_, k) => {
    if (k === 0) return from;
    return k === panels ? to : from * (to / from) ** (k / panels);
  });
}
