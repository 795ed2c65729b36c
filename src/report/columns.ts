/** Columns of text: aligned at the decimal point, as wide as they must be, rules of thin strokes. */

export type Alignment = "left" | "right" | "point";

export interface Column {
  readonly align: Alignment;
  /** Blanks before the column; 2 if not given. */
  readonly gap?: number;
}

const count = (text: string): number => [...text].length;

/** How many characters stand before the decimal point; a word has none behind it. */
function before(text: string): number {
  const point = text.search(/\.\d/);
  return point < 0 ? count(text) : count(text.slice(0, point));
}

const isNumber = (text: string): boolean => /^[−+]?\d+(\.\d+)?$/.test(text);

/** Pads the cells of one column to one width. */
function padded(cells: readonly string[], align: Alignment): readonly string[] {
  const numbers = align === "point" ? cells.filter(isNumber) : [];
  const whole = Math.max(0, ...numbers.map(before));
  const fraction = Math.max(0, ...numbers.map((text) => count(text) - before(text)));
  const placed = cells.map((text) => {
    if (align !== "point" || !isNumber(text)) return text;
    return " ".repeat(whole - before(text)) + text + " ".repeat(fraction - count(text) + before(text));
  });
  const width = Math.max(0, ...placed.map(count));
  return placed.map((text) =>
    align === "left"
      ? text.padEnd(width + text.length - count(text))
      : " ".repeat(width - count(text)) + text,
  );
}

/** Lays out rows of cells; a missing cell is empty. All lines come out equally long. */
export function layOut(rows: readonly (readonly string[])[], columns: readonly Column[]): readonly string[] {
  const cells = columns.map(({ align }, i) =>
    padded(
      rows.map((row) => row[i] ?? ""),
      align,
    ),
  );
  return rows.map((_, r) =>
    columns.map(({ gap = 2 }, i) => " ".repeat(i === 0 ? 0 : gap) + cells[i]![r]!).join(""),
  );
}

/** Words in lines of at most `width`, those after the first indented; numbers stay with their units. */
export function wrap(text: string, width: number, indent = 2): readonly string[] {
  const lines: string[] = [];
  for (const word of text.split(" ")) {
    const last = lines.at(-1);
    if (last !== undefined && count(last) + 1 + count(word) <= width)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push((lines.length > 0 ? " ".repeat(indent) : "") + word);
  }
  return lines.map(unbound);
}

/** On a terminal nobody breaks lines but us. */
export const unbound = (text: string): string => text.replaceAll("\u00a0", " ");

/** A thin rule. */
export const rule = (width: number): string => "─".repeat(Math.max(0, width));

/** How wide a line shows. */
export const widthOf = (text: string): number => count(text);

/** Text that cannot move the cursor or ring the bell: control characters are dropped. */
export const harmless = (text: string): string =>
  [...text].filter((character) => !/[\p{Cc}\p{Cf}\p{Cs}\u2028\u2029]/u.test(character)).join("");
