const isDigit = (code: number) => code >= 0x30 && code <= 0x39;
const isLetter = (code: number) =>
  (code >= 0x61 && code <= 0x7a) || (code >= 0x41 && code <= 0x5a) || code === 0x5f;

/** Compiled only when a name has letters beyond A to Z: that takes longer than reading a netlist. */
let foreign: RegExp | undefined;

function isForeign(char: string): boolean {
  foreign ??= /^[\p{L}\p{M}\p{N}]$/u;
  return foreign.test(char);
}

/** Letters, digits and the characters of `more`. Words that every object answers to are no names. */
function isName(text: string, more = ""): boolean {
  if (text === "" || text in {}) return false;
  for (const char of text) {
    const code = char.charCodeAt(0);
    if (isLetter(code) || isDigit(code)) continue;
    if (code < 0x80 ? !more.includes(char) : !isForeign(char)) return false;
  }
  return !more.includes(text[0]!);
}

/** Names of nets: letters, digits and `_`. */
export const isNetName = (text: string): boolean => isName(text);

/** Names of parts, windings and poles: as nets, but no digit first. */
export const isPartName = (text: string): boolean => isName(text) && !isDigit(text.charCodeAt(0));

/** Names of modes, paths, positions and types: `-` and `/` too. */
export const isLooseName = (text: string): boolean => isName(text, "-/");

/** A net name, or a pin such as `T1.b` or `TR1.primary.tap`. */
export function isPoint(text: string): boolean {
  if (!text.includes(".")) return isNetName(text);
  const [first = "", ...rest] = text.split(".");
  return rest.length <= 2 && isPartName(first) && rest.every(isLooseName);
}

/** `a, b and c`. */
export function listed(words: readonly string[], last = "and"): string {
  if (words.length < 2) return words.join("");
  return `${words.slice(0, -1).join(", ")} ${last} ${words.at(-1)}`;
}

/** `a resistor`, `an electrolytic`. */
export const withArticle = (word: string): string => `${/^[aeiou]/i.test(word) ? "an" : "a"} ${word}`;
