/** What a terminal may do to text. Without colour everything stays as it is. */
export interface Ink {
  readonly strong: (text: string) => string;
  readonly faint: (text: string) => string;
  /** The one accent: look here. */
  readonly accent: (text: string) => string;
  /** Text in the colour of the path of this number. */
  readonly path: (text: string, index: number) => string;
}

const ESCAPE = "\u001b[";
/** Select graphic rendition (ECMA-48): cyan, yellow, green and magenta after the terminal's own colour. */
const PATHS = ["", "36", "33", "32", "35"] as const;

const rendered = (code: string) => (text: string) =>
  text === "" || code === "" ? text : `${ESCAPE}${code}m${text}${ESCAPE}0m`;
const same = (text: string): string => text;

const PLAIN: Ink = { strong: same, faint: same, accent: same, path: same };
const COLOURED: Ink = {
  strong: rendered("1"),
  faint: rendered("2"),
  accent: rendered("31"),
  path: (text, index) => rendered(PATHS[index % PATHS.length] ?? "")(text),
};

export const inkFor = (color: boolean): Ink => (color ? COLOURED : PLAIN);
