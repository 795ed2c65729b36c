/** Tape speeds as people write them. */

/** An inch, m. */
const INCH = 0.0254;
const VULGAR: Readonly<Record<string, number>> = { "¼": 0.25, "½": 0.5, "¾": 0.75, "⅞": 0.875 };
const SPEED = /^(\d+(?:[.,]\d+)?)?\s*([¼½¾⅞])?\s*(cm\/s|in\/s|ips|mm\/s|m\/s)$/i;
const METRES: Readonly<Record<string, number>> = {
  "cm/s": 0.01,
  "mm/s": 0.001,
  "m/s": 1,
  "in/s": INCH,
  ips: INCH,
};
/** No tape for sound ran slower or faster, m/s. */
const SLOWEST = 0.005;
const FASTEST = 5;

/** Reads `9.53cm/s`, `19 cm/s`, `3¾in/s`, `7.5 ips`: m/s. Undefined if it is no speed of a tape. */
export function readSpeed(text: string): number | undefined {
  const [, whole, fraction, unit] = SPEED.exec(text.trim()) ?? [];
  if (unit === undefined || (whole === undefined && fraction === undefined)) return undefined;
  const number = Number((whole ?? "0").replace(",", ".")) + (VULGAR[fraction ?? ""] ?? 0);
  const speed = number * METRES[unit.toLowerCase()]!;
  return speed >= SLOWEST && speed <= FASTEST ? speed : undefined;
}
