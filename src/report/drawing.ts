/** What drawings share: paper, title, conditions. */
import { wrap } from "./columns.ts";
import { element, type Markup, together } from "./markup.ts";

export const SERIF = "Iowan Old Style, Palatino Linotype, Palatino, Book Antiqua, Georgia, serif";
export const PAPER = "#fdfbf4";
export const INK = "#1d1b18";
export const ACCENT = "#9c2f24";
export const SIZE = 11;
const TITLE_SIZE = 17;
const LINE = 15;
const LINE_LENGTH = 115;

export const text = (
  x: number,
  y: number,
  words: string,
  more: Readonly<Record<string, string | number | undefined>> = {},
): Markup => element("text", { x, y, "font-size": SIZE, ...more }, words);

export interface Head {
  readonly markup: Markup;
  /** Where it ends, units from the top. */
  readonly bottom: number;
}

/** Title and conditions at the top of a drawing. */
export function head(title: string, conditions: readonly string[], left: number): Head {
  const titles = wrap(title, 78, 0);
  const lines = conditions.length === 0 ? [] : wrap(conditions.join(" · "), LINE_LENGTH, 0);
  const after = 10 + titles.length * (TITLE_SIZE + 4);
  return {
    markup: together(
      ...titles.map((words, i) =>
        text(left, 10 + (i + 1) * (TITLE_SIZE + 3), words, { "font-size": TITLE_SIZE }),
      ),
      ...lines.map((words, i) => text(left, after + (i + 1) * LINE, words)),
    ),
    bottom: after + lines.length * LINE + 6,
  };
}

/** A drawing on paper as an SVG document, with an accessible name and description. */
export function drawing(
  { width, height }: { readonly width: number; readonly height: number },
  { title, description }: { readonly title: string; readonly description: string },
  ...content: readonly (Markup | undefined)[]
): string {
  const box = { width, height: Math.ceil(height) };
  const root = {
    xmlns: "http://www.w3.org/2000/svg",
    viewBox: `0 0 ${box.width} ${box.height}`,
    ...box,
    role: "img",
    "font-family": SERIF,
    color: INK,
  };
  const inside = together(
    element("title", {}, title),
    element("desc", {}, description),
    element("rect", { ...box, fill: PAPER }),
    element("g", { fill: "currentColor" }, together(...content)),
  );
  return `${element("svg", root, inside).markup}\n`;
}
