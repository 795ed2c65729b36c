/** XML and HTML by hand: elements as text, everything foreign escaped. */

/** Markup that is finished: it is put in as it stands. Plain strings are escaped. */
export interface Markup {
  readonly markup: string;
}

type Attributes = Readonly<Record<string, string | number | undefined>>;
export type Child = Markup | string | number | undefined;

/** Text without the characters that XML 1.0 cannot hold even escaped. */
export const writable = (text: string): string =>
  text.replace(/(?![\t\n\r])[\p{Cc}\p{Cs}\ufffe\uffff]/gu, "");

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** Text made safe between tags and in quoted attributes. */
export const escaped = (text: string): string =>
  writable(text).replace(/[&<>"']/g, (character) => ENTITIES[character]!);

/** Coordinates need no more than a hundredth. */
const attributeText = (value: string | number): string =>
  typeof value === "number" ? String(Number(value.toFixed(2))) : escaped(value);

const childText = (child: Child): string => {
  if (child === undefined) return "";
  return typeof child === "object" ? child.markup : escaped(String(child));
};

const EMPTY_FORM = new Set(["path", "line", "rect", "circle", "meta"]);

/** An element; attributes that are undefined are left out. */
export function element(name: string, attributes: Attributes, ...children: readonly Child[]): Markup {
  const written = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => ` ${key}="${attributeText(value!)}"`)
    .join("");
  if (EMPTY_FORM.has(name)) return { markup: `<${name}${written}/>` };
  return { markup: `<${name}${written}>${children.map(childText).join("")}</${name}>` };
}

/** Several pieces of markup one after the other, each on its line. */
export const together = (...pieces: readonly (Markup | undefined)[]): Markup => ({
  markup: pieces.flatMap((piece) => (piece === undefined ? [] : [piece.markup])).join("\n"),
});
