/**
 * Moves positions on a line apart until neighbours are at least `spacing` from each other, as little
 * as possible, and keeps them between `least` and `greatest` where they fit. Keeps their order.
 */
export function spreadOut(
  positions: readonly number[],
  spacing: number,
  least: number,
  greatest: number,
): readonly number[] {
  const order = positions.map((_, i) => i).sort((a, b) => positions[a]! - positions[b]! || a - b);
  const gap = Math.min(spacing, (greatest - least) / Math.max(1, order.length - 1));
  const placed = new Array<number>(positions.length);
  let floor = least;
  for (const i of order) {
    placed[i] = Math.max(positions[i]!, floor);
    floor = placed[i]! + gap;
  }
  let ceiling = greatest;
  for (const i of order.toReversed()) {
    placed[i] = Math.min(placed[i]!, ceiling);
    ceiling = placed[i]! - gap;
  }
  return placed;
}
