/** Points and figures in words. */
const PINS: Readonly<Record<string, string>> = { e: "emitter", b: "base", c: "collector" };

/** `T3.c` as `T3 collector`; a net as it is called. */
export function pointWords(point: string): string {
  const [, part, pin = ""] = /^(.+)\.([ebc])$/.exec(point) ?? [];
  return part === undefined ? point : `${part} ${PINS[pin]}`;
}

/** What is wrong and what helps, as one sentence without its full stop. */
export const withHint = ({ message, hint }: { readonly message: string; readonly hint?: string }): string =>
  hint === undefined ? message : `${message}; ${hint}`;
