import { meant } from "./language/nearest.ts";

/** Throws a RangeError that proposes what was probably meant, where a name is none of the known ones. */
export function checkNames(
  what: string,
  names: readonly string[] | undefined,
  known: readonly { readonly name: string }[],
): void {
  const all = known.map(({ name }) => name);
  const unknown = names?.find((name) => !all.includes(name));
  if (unknown === undefined) return;
  throw new RangeError(
    [`the circuit has no ${what} "${unknown}"`, meant(unknown, all)].filter(Boolean).join("; "),
  );
}

/** Throws a RangeError on the first of several figures that is not above 0 and finite. */
export function checkPositive(what: string, figures: readonly number[]): void {
  const bad = figures.find((figure) => !(figure > 0 && figure < Infinity));
  if (bad !== undefined) throw new RangeError(`${what} is above 0, not ${bad}`);
}
