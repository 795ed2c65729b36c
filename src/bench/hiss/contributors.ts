/** Who makes the noise at an output, ranked. */
import type { Circuit } from "../../circuit/circuit.ts";
import { byWeighting, FACTORS, rootDensity, total } from "./powers.ts";
import type { Contributor, PathHiss } from "./results.ts";
import type { Strand } from "./strands.ts";

/** Of so many contributors the density is kept. */
const DRAWN = 6;

/** What the strands give at the output, in the order of the strands. */
export interface Powers {
  /** Over the band, by the number of the weighting. */
  readonly band: readonly Float64Array[];
  /** Densities at the frequencies wanted. */
  readonly spectra: readonly Float64Array[];
}

/** Numbers of the strands that are of one part and one origin. */
function together(strands: readonly Strand[]): readonly (readonly number[])[] {
  const groups = new Map<string, number[]>();
  strands.forEach(({ part, origin }, k) => {
    const key = `${part} ${origin}`;
    groups.set(key, [...(groups.get(key) ?? []), k]);
  });
  return [...groups.values()];
}

const sumOf = (group: readonly number[], values: Float64Array): number =>
  group.reduce((sum, k) => sum + values[k]!, 0);

/** Strands of one part and origin together, the largest share of the unweighted power first. */
export function contributorsOf(
  { parts }: Circuit,
  strands: readonly Strand[],
  source: number,
  { band, spectra }: Powers,
  quantity: PathHiss["quantity"],
): readonly Contributor[] {
  const totals = FACTORS.map((_, w) => total(band[w]!));
  const shareOf = (group: readonly number[], w: number) =>
    totals[w]! > 0 ? sumOf(group, band[w]!) / totals[w]! : 0;
  return together(strands)
    .map((group) => ({ group, share: shareOf(group, 0) }))
    .filter(({ share }) => share > 0)
    .toSorted((a, b) => b.share - a.share)
    .map(({ group, share }, rank): Contributor => {
      const { part, origin } = strands[group[0]!]!;
      const density = spectra.map((at) => sumOf(group, at));
      return {
        part: parts[part]!.name,
        origin,
        share,
        weighted: byWeighting((w) => shareOf(group, w)),
        ...(part === source && { source: true as const }),
        ...(rank < DRAWN && density.length > 0 && rootDensity(quantity, density)),
      };
    });
}
