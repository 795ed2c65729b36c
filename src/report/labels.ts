import type { PathResponse } from "../bench/results.ts";

/** What to call each response: its path, with its mode where the path is there in several. */
export function pathLabels(responses: readonly PathResponse[]): readonly string[] {
  return responses.map(({ path, mode }) =>
    responses.filter((other) => other.path === path).length > 1 ? `${path} in ${mode}` : path,
  );
}

/** All frequencies of the responses, each once, ascending, Hz. */
export const frequenciesOf = (responses: readonly PathResponse[]): readonly number[] =>
  [...new Set(responses.flatMap((response) => response.hertz))].sort((a, b) => a - b);
