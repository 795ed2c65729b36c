interface Dot {
  readonly x: number;
  readonly y: number;
}

/** Bits of the braille cell (Unicode block U+2800) by row of dots, then left and right. */
const BITS = [
  [0x01, 0x08],
  [0x02, 0x10],
  [0x04, 0x20],
  [0x40, 0x80],
] as const;

/** A field of dots, 2 × 4 in each character cell. Dots outside are not drawn. */
export class Canvas {
  readonly #columns: number;
  readonly #rows: number;
  readonly #cells: Uint8Array;

  constructor(columns: number, rows: number) {
    this.#columns = columns;
    this.#rows = rows;
    this.#cells = new Uint8Array(columns * rows);
  }

  /** The dots of a cell, as bits of the braille block; 0 where there are none. */
  cell(column: number, row: number): number {
    return this.#cells[row * this.#columns + column] ?? 0;
  }

  dot(x: number, y: number): void {
    if (x < 0 || y < 0 || x >= 2 * this.#columns || y >= 4 * this.#rows) return;
    this.#cells[(y >> 2) * this.#columns + (x >> 1)]! |= BITS[y & 3]![x & 1]!;
  }

  /** A small square about a point that has no neighbours. */
  blob({ x, y }: Dot): void {
    for (const dx of [0, 1]) for (const dy of [0, 1]) this.dot(Math.round(x) + dx, Math.round(y) + dy);
  }

  /** Straight lines from dot to dot; `dashes` are the numbers of dots drawn and left out in turn. */
  polyline(dots: readonly Dot[], dashes: readonly number[]): void {
    const period = dashes.reduce((sum, length) => sum + length, 0);
    let step = 0;
    for (let i = 1; i < dots.length; i++) {
      for (const { x, y } of this.#between(dots[i - 1]!, dots[i]!)) {
        if (drawn(step++ % period, dashes)) this.dot(x, y);
      }
      // the next line begins with the dot that this one ends with
      step--;
    }
  }

  /** The dots from `a` to `b`, one a column or row. */
  *#between(a: Dot, b: Dot): Generator<Dot> {
    const steps = Math.max(1, Math.ceil(Math.max(Math.abs(b.x - a.x), Math.abs(b.y - a.y))));
    for (let i = 0; i <= steps; i++) {
      const share = i / steps;
      yield { x: Math.round(a.x + share * (b.x - a.x)), y: Math.round(a.y + share * (b.y - a.y)) };
    }
  }
}

/** Whether the dot of this number within the period belongs to a dash. */
function drawn(position: number, dashes: readonly number[]): boolean {
  let end = 0;
  for (const [i, length] of dashes.entries()) {
    end += length;
    if (position < end) return i % 2 === 0;
  }
  return false;
}
