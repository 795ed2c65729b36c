/** A draft to a circuit: types and references looked up, tolerances filled in, pins put on their nets. */
import type { Circuit, DeviceType, Part } from "../circuit/circuit.ts";
import type { Draft, DraftPart } from "./draft.ts";
import { libraryNames, libraryType } from "./library.ts";
import { listed } from "./names.ts";
import { meant } from "./nearest.ts";
import type { NetTable } from "./nets.ts";
import { readGiven, readOtherReadings } from "./read-given.ts";
import { readModes } from "./read-modes.ts";
import { readPaths } from "./read-paths.ts";
import { placeOf } from "./span.ts";

/** The circuit as far as it can be told. It is whole only if the draft's complaints hold no error. */
export function resolve(draft: Draft, table: NetTable, title: string): Circuit {
  const types = typesOf(draft);
  const base: Circuit = {
    title: draft.title?.text ?? title,
    ambientCelsius: draft.ambient?.celsius ?? 25,
    nets: table.nets,
    parts: [...draft.parts.values()].map((part) => asPart(part, draft, table)),
    types,
    modes: readModes(draft),
    paths: [],
    readings: [],
    printed: [],
  };
  for (const part of draft.parts.values()) checkReferences(part, draft);
  const paths = readPaths(draft, base, table);
  const others = readOtherReadings(draft, { ...base, paths }, table);
  return {
    ...base,
    paths,
    ...(others.length > 0 && { otherReadings: others }),
    readings: readGiven("reading", draft, base, table),
    printed: readGiven("printed", draft, base, table),
  };
}

function asPart(part: DraftPart, draft: Draft, table: NetTable): Part {
  const { name, kind, values, choices, windings, positions, poles } = part;
  const tolerance = part.tolerance ?? draft.tolerances.get(kind.keyword)?.tolerance;
  return {
    name: name.text,
    kind: kind.keyword,
    pins: part.joints.map(({ pin }) => ({ name: pin, net: table.find(`${name.text}.${pin}`) ?? 0 })),
    values,
    choices: positions?.[0] === undefined ? choices : { position: positions[0], ...choices },
    ...(part.type && { type: part.type.text }),
    ...(tolerance && { tolerance }),
    ...(windings && { windings }),
    ...(positions && { positions }),
    ...(poles && { poles }),
    place: placeOf(name),
  };
}

/** Types of the netlist itself and those of the library that it mentions. */
function typesOf(draft: Draft): Record<string, DeviceType> {
  const own = [...draft.types].map(([name, { type }]) => [name, type] as const);
  const types = new Map(own);
  for (const part of draft.parts.values()) checkType(part, types, draft);
  return Object.fromEntries(types);
}

function checkType(part: DraftPart, types: Map<string, DeviceType>, draft: Draft): void {
  const { type: word, kind } = part;
  if (word === undefined) return;
  const fromLibrary = draft.usesLibrary ? libraryType(word.text)?.type : undefined;
  const type = types.get(word.text) ?? fromLibrary;
  if (type === undefined) {
    complainOfType(part, draft);
    return;
  }
  types.set(type.name, type);
  if ((type.device === "diode") === (kind.device === "diode")) return;
  draft.complaints.error(
    word,
    `${part.name.text} is a ${kind.keyword}, but ${type.name} is a ${type.device === "diode" ? "diode" : `${type.device} transistor`}`,
  );
}

function complainOfType(part: DraftPart, draft: Draft): void {
  const word = part.type!;
  if (draft.lost.has(word.text) || draft.incomplete) return;
  const shipped = libraryNames();
  const known = [...draft.types.keys(), ...(draft.usesLibrary ? shipped : [])];
  const near = meant(word.text, known);
  const unused = !draft.usesLibrary && shipped.includes(word.text);
  draft.complaints.error(
    word,
    `There is no device type ${word.text}`,
    unused
      ? "it is in the library: add a line that says use library"
      : (near ??
          `add a block for it: type ${word.text} ${part.kind.device === "diode" ? "diode" : "pnp"} germanium`),
  );
}

/** `tracks T6`: the part named must exist and be of the right kind. */
function checkReferences(part: DraftPart, draft: Draft): void {
  for (const [word, { kind, meaning }] of Object.entries(part.kind.references ?? {})) {
    const name = part.choices[word];
    const at = part.spans.get(word);
    if (name === undefined || at === undefined || draft.lost.has(name)) continue;
    const other = draft.parts.get(name);
    if (other?.kind.keyword === kind || (other === undefined && draft.incomplete)) continue;
    const candidates = [...draft.parts.values()]
      .filter((candidate) => candidate.kind.keyword === kind)
      .map((candidate) => candidate.name.text);
    draft.complaints.error(
      at,
      `${part.name.text}: ${other === undefined ? `there is no ${kind} ${name}` : `${name} is a ${other.kind.keyword}, not a ${kind}`}`,
      meant(name, candidates) ??
        (candidates.length > 0
          ? `"${word}" names the ${meaning}: ${listed(candidates, "or")}`
          : `"${word}" names the ${meaning}`),
    );
  }
}
