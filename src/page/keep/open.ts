/** Files that are opened, put onto the sheet. */
import { computed, signal } from "@preact/signals";
import { beside } from "../../language/files.ts";
import { readNetlist } from "../../language/index.ts";
import { circuit, readFiles } from "../compute/netlist.ts";
import { demoSheet, today } from "../first-sheet.ts";
import { choices, ID as RESPONSE } from "../sections/response-model.ts";
import { blankSheet, type SheetDocument } from "../state/document.ts";
import { announce } from "../state/hand.ts";
import { dispatch, endStroke, keep, sheet } from "../state/store.ts";
import { keepNow, keptSheet, takeBackThrown, throwAway } from "./keeper.ts";
import { LARGEST, type Opened, openedFile } from "./opened.ts";
import { ofCircuit, ofFile } from "./origin.ts";
import { OWN, ownName } from "./own.ts";
import { readingsInTable } from "./readings-table.ts";

/** What came of what was opened last: sentences; empty if all went well. */
export const openProblem = signal("");
const done = signal({ words: "", origin: "" });

/** What was done to the sheet that is open, in words. */
export const openWords = computed(() =>
  done.value.origin === (sheet.value.origin ?? "") ? done.value.words : "",
);

function say(words: string): void {
  done.value = { words, origin: sheet.peek().origin ?? "" };
}

/** In place of the sheet there is; what is there is kept first, and comes back by undoing. */
function show(document: SheetDocument, words: string): void {
  keepNow();
  endStroke();
  dispatch({ kind: "open", document });
  say(words);
}

/** A circuit: as it was left, if it has been open before. */
function openCircuit(document: SheetDocument): void {
  const named = ofCircuit(document);
  const left = keptSheet(named.origin)?.present;
  show(left ?? named, left === undefined ? `${document.main} opened` : `${document.main}, as it was left`);
}

/** A sheet of a file, exactly; what was done to it here since it was opened last comes back by undoing. */
function openSheet(document: SheetDocument, text: string): void {
  const named = ofFile(document, text);
  const left = keptSheet(named.origin)?.present;
  if (left !== undefined) show(left, "");
  show(named, `${document.main}, as it was saved`);
}

export function openDemo(name: string): void {
  openCircuit(demoSheet(name));
}

/** A netlist to be typed over, under a name that no sheet kept here has; answers the name. */
export function openOwn(): string {
  for (let count = 1; ; count++) {
    const name = ownName(count);
    const document = ofCircuit(blankSheet(name, { [name]: OWN }, today()));
    if (document.origin === sheet.peek().origin || keptSheet(document.origin) !== undefined) continue;
    show(document, `${name} begun`);
    return name;
  }
}

export function openKept(origin: string): void {
  const left = keptSheet(origin)?.present;
  if (left === undefined) openProblem.value = "That sheet is not there any more, or damaged.";
  else show(left, `${left.main}, as it was left`);
}

export function deleteKept(origin: string): void {
  const done = throwAway(origin);
  openProblem.value = done ? "" : "That sheet is not there any more.";
  if (done) announce("deleted; it can be brought back");
}

export function bringBackKept(): void {
  openProblem.value = takeBackThrown() ? "" : "That sheet is there already, or cannot be brought back.";
}

type Netlist = Extract<Opened, { kind: "netlist" }>;

/** Names of the files that a netlist uses. */
function usedBy({ name, text }: Netlist): readonly string[] {
  const names: string[] = [];
  readNetlist(text, {
    file: name,
    files: (used, from) => {
      names.push(beside(used, from));
      return undefined;
    },
  });
  return names;
}

/** One netlist, with those that it uses; or one that the present sheet uses and lacks. */
function openNetlists(list: readonly Netlist[]): void {
  const used = new Set(list.flatMap(usedBy));
  const main = list.find(({ name }) => !used.has(name)) ?? list[0];
  if (main === undefined) return;
  const texts = Object.fromEntries(list.map(({ name, text }) => [name, text]));
  const { main: present, files } = sheet.peek();
  const lacks = readFiles(files, present).circuit === undefined;
  const completed = readFiles({ ...files, ...texts }, present);
  if (lacks && completed.circuit !== undefined && !Object.hasOwn(texts, present)) {
    for (const { name, text } of list) dispatch({ kind: "text", file: name, text }, "files");
    endStroke();
    say(`${list.map(({ name }) => name).join(", ")} added`);
    return;
  }
  openCircuit(blankSheet(main.name, texts, today()));
}

/** Problems told at once. */
const MOST_TOLD = 5;

function takeReadings({ name, rows }: Extract<Opened, { kind: "readings" }>): string {
  const now = circuit.peek();
  if (now === undefined) return "There is no circuit yet that the readings could be of.";
  const { readings, problems } = readingsInTable(rows, now);
  endStroke();
  for (const { mode, point, text } of readings)
    dispatch({ kind: "reading", mode, point, text }, `readings of ${name}`);
  endStroke();
  if (readings.length > 0) say(`${readings.length} readings taken from ${name}`);
  const more = problems.length > MOST_TOLD ? [`and ${problems.length - MOST_TOLD} more`] : [];
  return problems.length === 0 ? "" : `${name}: ${[...problems.slice(0, MOST_TOLD), ...more].join(". ")}.`;
}

function put(opened: readonly Opened[]): string {
  const problems = opened.map((each) => {
    if (each.kind === "sheet") openSheet(each.document, each.text);
    return each.kind === "refused" ? `${each.message}.` : "";
  });
  openNetlists(opened.filter((each) => each.kind === "netlist"));
  // after the circuit that they are of
  for (const each of opened) {
    if (each.kind === "readings") problems.push(takeReadings(each));
    if (each.kind !== "curve") continue;
    keep(RESPONSE, { ...choices.peek(), measuredName: each.name, measuredText: each.text });
    say(`${each.name} laid over the response`);
  }
  return problems.filter((each) => each !== "").join(" ");
}

/** Opens whatever was chosen or dropped. */
export async function openFiles(files: readonly File[]): Promise<void> {
  say("");
  openProblem.value = "";
  try {
    const opened = await Promise.all(
      files.map(async (file) =>
        file.size > LARGEST
          ? openedFile(file.name, new Uint8Array(LARGEST + 1))
          : openedFile(file.name, new Uint8Array(await file.arrayBuffer())),
      ),
    );
    openProblem.value = put(opened);
  } catch {
    openProblem.value = "What was opened cannot be read: a folder, or a file that is gone.";
  }
}
