/** The curve that a tape standard asks of the playback path, and its tolerance field. */
import { asPlayed, type PlaybackResponse, startsAtHead } from "../../bench/playback.ts";
import type { PathResponse } from "../../bench/results.ts";
import type { Circuit, PartState } from "../../circuit/circuit.ts";
import { modesOf, withPartStates } from "../../circuit/conditions.ts";
import { PORTABLE } from "../../tape/fields.ts";
import { findStandard, STANDARDS, type TapeStandard } from "../../tape/standards.ts";

/** Where tape curves are 0 dB, Hz. */
const REFERENCE = 1000;

export const standardText = ({ name, speed }: TapeStandard): string =>
  `${name}, ${+(100 * speed).toFixed(2)} cm/s`;

/** Every standard by what it is called on the sheet. */
export const STANDARD_TEXTS: readonly string[] = STANDARDS.map(standardText);

/** What a home recorder of the time was made for: taken until somebody chooses. */
export const USUAL = standardText(findStandard("DIN 1962", 0.0953)!);

/** Responses that start at a head, as the tape sees them. */
export function targetsOf(
  circuit: Circuit,
  responses: readonly PathResponse[],
  chosen: string,
  set: readonly PartState[] = [],
): readonly (PlaybackResponse | undefined)[] {
  const standard = STANDARDS.find((each) => standardText(each) === chosen);
  return responses.map((path) => {
    if (standard === undefined || path.quantity !== "voltage" || !startsAtHead(circuit, path.from))
      return undefined;
    const states = modesOf(circuit).find(({ name }) => name === path.mode)?.states ?? [];
    const head = withPartStates(circuit, [...states, ...set]).parts.find(({ name }) => name === path.from);
    return asPlayed(path, head, { standard, speed: standard.speed, reference: REFERENCE, field: PORTABLE });
  });
}
