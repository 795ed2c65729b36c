const NAME = /^[\p{L}_][\p{L}\p{M}\p{N}_]*$/u;
const LOOSE_NAME = /^[\p{L}\p{N}_][\p{L}\p{M}\p{N}_\-/]*$/u;
const NET_NAME = /^[\p{L}\p{N}_][\p{L}\p{M}\p{N}_]*$/u;
const SIMPLE = /^[A-Za-z_][A-Za-z0-9_]*$/;

/** Words that every JavaScript object answers to could not be told from names in results. */
const free = (text: string) => !(text in {});

/** Names of parts, windings and poles: letters, digits and `_`, a letter first. */
export const isPartName = (text: string): boolean => free(text) && (SIMPLE.test(text) || NAME.test(text));

/** Names of nets: as parts, but a digit may stand first. */
export const isNetName = (text: string): boolean => free(text) && (SIMPLE.test(text) || NET_NAME.test(text));

/** Names of modes, paths, positions and types: `-` and `/` too. */
export const isLooseName = (text: string): boolean =>
  free(text) && (SIMPLE.test(text) || LOOSE_NAME.test(text));

/** A net name, or a pin such as `T1.b` or `TR1.primary.tap`. */
export function isPoint(text: string): boolean {
  if (SIMPLE.test(text)) return free(text);
  const [first = "", ...rest] = text.split(".");
  if (rest.length === 0) return isNetName(first);
  return rest.length <= 2 && isPartName(first) && rest.every(isLooseName);
}

/** `a, b and c`. */
export function listed(words: readonly string[], last = "and"): string {
  if (words.length < 2) return words.join("");
  return `${words.slice(0, -1).join(", ")} ${last} ${words.at(-1)}`;
}

/** `a resistor`, `an electrolytic`. */
export const withArticle = (word: string): string => `${/^[aeiou]/i.test(word) ? "an" : "a"} ${word}`;
