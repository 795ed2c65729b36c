/** The `pole` lines of a switch. */
import type { Complaints } from "./complaints.ts";
import type { DraftPart } from "./draft.ts";
import { isLooseName, isPartName } from "./names.ts";
import { meant } from "./nearest.ts";
import type { PartContext } from "./part-context.ts";
import { checkPoint } from "./part-points.ts";
import type { Word } from "./scan.ts";

const USAGE = "write it as pole NAME COMMON POSITION X POSITION Y";

/** Takes the names of the positions, to the end or to the next word of the kind. */
export function takePositions({ part, kind, cursor, complaints }: PartContext): void {
  const positions: string[] = [];
  for (let word = cursor.peek(); word !== undefined; word = cursor.peek()) {
    if (Object.hasOwn(kind.words ?? {}, word.text)) break;
    cursor.take();
    checkPosition(part, word, positions, complaints);
    positions.push(word.text);
  }
  part.positions = positions;
}

function checkPosition(part: DraftPart, word: Word, before: readonly string[], complaints: Complaints): void {
  if (word.quoted || !isLooseName(word.text) || word.text === "common") {
    const hint =
      word.text === "common" ? '"common" is the name of the contact that all positions share' : undefined;
    complaints.error(word, `"${word.text}" cannot be the name of a switch's position`, hint);
  } else if (before.includes(word.text)) {
    complaints.error(word, `${part.name.text} has the position "${word.text}" twice`);
  }
}

/** Reads each `pole` line into pins and poles of the part, and checks that the positions are used. */
export function readPoles(
  part: DraftPart,
  clauses: readonly (readonly Word[])[],
  complaints: Complaints,
): void {
  const before = complaints.errors;
  const positions = part.positions ?? [];
  part.poles = [];
  if (positions.length < 2) {
    complaints.error(
      part.name,
      `${part.name.text} has ${positions.length === 0 ? "no positions" : "one position only"}; a switch has two or more`,
      `name them behind the switch: switch ${part.name.text} play record`,
    );
  }
  if (positions.length === 0) return;
  for (const clause of clauses) readPole(part, clause, complaints);
  if (clauses.length === 0) {
    complaints.error(part.name, `${part.name.text} has no poles`, `${USAGE} on an indented line`);
  }
  if (complaints.errors === before) warnOfTwins(part, complaints);
}

/** Positions that no pole names are all alike: one of them is "off", two are probably a slip. */
function warnOfTwins(part: DraftPart, complaints: Complaints): void {
  const unused = (part.positions ?? []).filter((position) =>
    (part.poles ?? []).every((pole) => !Object.hasOwn(pole.throws, position)),
  );
  if (unused.length < 2) return;
  complaints.warning(
    part.name,
    `${part.name.text}: no pole names the positions ${unused.map((name) => `"${name}"`).join(" and ")}, so they do the same`,
    "every contact is open in a position that its pole does not name",
  );
}

function readPole(part: DraftPart, clause: readonly Word[], complaints: Complaints): void {
  const [line, name, common, ...pairs] = clause;
  const owner = part.name.text;
  if (name === undefined || name.quoted || !isPartName(name.text)) {
    complaints.error(name ?? line!, `${owner}: a name for the pole is expected here`, USAGE);
    return;
  }
  if (part.poles?.some((pole) => pole.name === name.text)) {
    complaints.error(name, `${owner} has a pole "${name.text}" already`);
    return;
  }
  if (common === undefined) {
    complaints.error(name, `${owner}: the common contact of pole "${name.text}" is not connected`, USAGE);
    return;
  }
  if (!checkPoint(common, complaints)) return;
  const throws = contactsOf(part, pairs, complaints);
  if (throws === undefined) return;
  if (throws.length === 0) complaints.error(common, `${owner}: pole "${name.text}" switches nothing`, USAGE);
  addPole(part, name.text, common, throws);
}

type Throw = readonly [position: string, point: Word];

/** Pairs of a position and a point. */
function contactsOf(part: DraftPart, words: readonly Word[], complaints: Complaints): Throw[] | undefined {
  const positions = part.positions ?? [];
  const throws: Throw[] = [];
  for (let k = 0; k < words.length; k += 2) {
    const [position, point] = [words[k]!, words[k + 1]];
    if (!positions.includes(position.text)) {
      complaints.error(
        position,
        `${part.name.text} has no position "${position.text}"`,
        meant(position.text, positions) ?? `its positions are ${positions.join(", ")}`,
      );
      return undefined;
    }
    if (point === undefined) {
      complaints.error(
        position,
        `${part.name.text}: the point that "${position.text}" connects to is missing`,
        USAGE,
      );
      return undefined;
    }
    if (throws.some(([other]) => other === position.text)) {
      complaints.error(position, `${part.name.text}: this pole has the position "${position.text}" twice`);
      return undefined;
    }
    if (!checkPoint(point, complaints)) return undefined;
    throws.push([position.text, point]);
  }
  return throws;
}

function addPole(part: DraftPart, name: string, common: Word, throws: readonly Throw[]): void {
  const first = part.joints.length;
  part.joints.push({ pin: `${name}.common`, point: common });
  part.joints.push(...throws.map(([position, point]) => ({ pin: `${name}.${position}`, point })));
  part.poles?.push({
    name,
    common: first,
    throws: Object.fromEntries(throws.map(([position], k) => [position, first + 1 + k])),
  });
}
