/** Statements of the whole netlist: `circuit`, `ambient`, `tolerance`, `wire`. */
import { COLDEST_AMBIENT, WARMEST_AMBIENT } from "../devices/constants.ts";
import { PART_KINDS, partKind } from "../parts/index.ts";
import { Cursor } from "./cursor.ts";
import type { Draft } from "./draft.ts";
import { isLooseName, withArticle } from "./names.ts";
import { meant } from "./nearest.ts";
import { checkPoint } from "./part-points.ts";
import { takeQuantity } from "./quantity.ts";
import { elsewhere } from "./read-part.ts";
import type { Statement } from "./statements.ts";
import { isTolerance, takeTolerance } from "./tolerance.ts";

const AMBIENT = { unit: "celsius", meaning: "of the surroundings", signed: true } as const;

export function readTitle({ keyword, words }: Statement, draft: Draft): void {
  const [title, surplus] = words;
  if (title === undefined || !title.quoted) {
    const text = words.map((word) => word.text).join(" ");
    draft.complaints.error(
      title ?? keyword,
      "The circuit's title is expected in quotes",
      `write circuit "${text.replace(/[“”„]/g, "") || "TITLE"}"`,
    );
  } else if (draft.title !== undefined && draft.title.file === title.file) {
    draft.complaints.error(keyword, `The circuit has a title already, in line ${draft.title.line}`);
  } else {
    if (draft.title === undefined || title.file === draft.main) draft.title = title;
    if (surplus !== undefined) draft.complaints.error(surplus, `Nothing is expected behind the title`);
  }
}

export function readAmbient({ keyword, words }: Statement, draft: Draft): void {
  const cursor = new Cursor(words, keyword);
  const { complaints } = draft;
  const found = takeQuantity(cursor, AMBIENT, { owner: "ambient", complaints });
  if (found === undefined) return;
  if (found.value < COLDEST_AMBIENT || found.value > WARMEST_AMBIENT) {
    complaints.error(
      found,
      `An ambient of ${Number(found.value.toPrecision(4))} °C is outside ${COLDEST_AMBIENT} to ${WARMEST_AMBIENT} °C, where the models hold`,
    );
  } else if (draft.ambient !== undefined && draft.ambient.at.file === found.file) {
    complaints.error(keyword, `The ambient temperature is given already, in line ${draft.ambient.at.line}`);
  } else if (draft.ambient === undefined || found.file === draft.main) {
    draft.ambient = { celsius: found.value, at: found };
  }
  const surplus = cursor.peek();
  if (surplus !== undefined) complaints.error(surplus, "Nothing is expected behind the temperature");
}

/** `tolerance resistor ±10%  electrolytic -20% +100%`. */
export function readTolerances({ keyword, words }: Statement, draft: Draft): void {
  const cursor = new Cursor(words, keyword);
  const { complaints } = draft;
  const kinds = PART_KINDS.filter((kind) => kind.tolerance).map((kind) => kind.keyword);
  if (cursor.done) complaints.error(keyword, "A kind of part and its tolerance are expected here", USAGE);
  while (!cursor.done) {
    const word = cursor.take()!;
    const known = kinds.includes(word.text);
    if (!known) {
      const why =
        partKind(word.text) === undefined
          ? `"${word.text}" is no kind of part`
          : `No tolerance can be given for ${withArticle(word.text)}`;
      complaints.error(word, why, meant(word.text, kinds) ?? USAGE);
    }
    if (!isTolerance(cursor)) {
      if (known) complaints.error(word, `The tolerance of "${word.text}" is missing`, USAGE);
      if (!known && cursor.peek() !== undefined && !kinds.includes(cursor.peek()!.text)) return;
      continue;
    }
    const found = takeTolerance(cursor, word.text, complaints);
    if (found === undefined || !known) continue;
    const { at, low, high } = found;
    const first = draft.tolerances.get(word.text);
    if (first === undefined) draft.tolerances.set(word.text, { tolerance: { low, high }, at });
    else {
      complaints.error(
        word,
        `The tolerance of "${word.text}" is given already, in line ${first.at.line}${elsewhere(first.at, word)}`,
      );
    }
  }
}

const USAGE = "write it as tolerance resistor ±10% electrolytic -20% +100%";

/** `wire A to B to C`. */
export function readWire({ keyword, words }: Statement, draft: Draft): void {
  const { complaints } = draft;
  const before = complaints.errors;
  const points = words.filter((_, k) => k % 2 === 0);
  const slip = words.find((word, k) => k % 2 === 1 && word.text !== "to");
  if (slip !== undefined) {
    complaints.error(
      slip,
      `"to" is expected between the points of a wire, but "${slip.text}" stands there`,
      "write it as wire A to B to C",
    );
  } else if (points.length < 2 || words.length % 2 === 0) {
    complaints.error(words.at(-1) ?? keyword, "A wire joins two points or more", "write it as wire A to B");
  } else for (const point of points) checkPoint(point, complaints);
  if (complaints.errors > before) draft.doubt(words);
  else draft.joins.push(points);
}

const NEEDS: Readonly<Record<string, string>> = {
  mode: "mode record S1 record P1 70%",
  path: "path playback in play from K1 to LS1 voltage",
};

/** Keeps `mode` and `path` under their name until everything they mention is known. */
export function readNamed({ keyword, words }: Statement, draft: Draft): void {
  const [name, ...rest] = words;
  const { complaints } = draft;
  if (name === undefined || name.quoted || !isLooseName(name.text)) {
    complaints.error(
      name ?? keyword,
      `A name for the ${keyword.text} is expected here`,
      `write it as ${NEEDS[keyword.text]}`,
    );
    return;
  }
  const key = `${keyword.text} ${name.text}`;
  const first = draft.named.get(key);
  if (first === undefined) {
    draft.named.set(key, name);
    draft.pending.push({ keyword, name, words: rest });
    return;
  }
  complaints.error(
    name,
    `There is already a ${keyword.text} "${name.text}", in line ${first.line}${elsewhere(first, name)}`,
    `give this ${keyword.text} a name of its own`,
  );
}
