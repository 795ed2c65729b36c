/** The band between the 2.5 % and the 97.5 % point, and the median. */
export interface Band {
  readonly least: number;
  readonly typical: number;
  readonly greatest: number;
}

/** Digits that do not depend on the machine's last bit. */
const DIGITS = 9;

/** To nine significant digits, so that every machine prints the same. */
export const settled = (value: number): number => Number(value.toPrecision(DIGITS));

/** The value below which the share `p` of ascending values lies, linear between neighbours. */
export function quantile(ascending: Float64Array, p: number): number {
  const place = p * (ascending.length - 1);
  const below = Math.floor(place);
  const value = ascending[below]!;
  const next = ascending[below + 1] ?? value;
  return value + (place - below) * (next - value);
}

/** 2.5 %, 50 % and 97.5 % points of some values. */
export function bandOf(values: Float64Array): Band {
  const ascending = values.slice().sort();
  return {
    least: settled(quantile(ascending, 0.025)),
    typical: settled(quantile(ascending, 0.5)),
    greatest: settled(quantile(ascending, 0.975)),
  };
}
