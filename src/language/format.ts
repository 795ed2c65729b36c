import type { Diagnostic } from "../circuit/diagnostic.ts";

export function formatNetlist(
  text: string,
  _options: { file?: string } = {},
): string | readonly Diagnostic[] {
  return text;
}
