/** The netlist in an editor: what is wrong with it stands in it, and the sheet above follows what is typed. */
import { computed, signal } from "@preact/signals";
import type { Diagnostic } from "../../circuit/diagnostic.ts";
import { LIBRARY_FILE } from "../../language/library.ts";
import { circuit, diagnostics, errors, netlist as read } from "../compute/netlist.ts";
import { Editor } from "../editor/netlist-editor.tsx";
import { openOwn } from "../keep/open.ts";
import { OWN } from "../keep/own.ts";
import { files, sheet } from "../state/store.ts";
import type { Section } from "./section.ts";

/** The file chosen to be looked at; another circuit may not have it. */
const chosen = signal("");
const wanted = signal<Diagnostic | undefined>(undefined);

const fileNames = computed(() => {
  const { main } = sheet.value;
  const used = [...read.value.sources.keys()].filter((name) => name !== main);
  return [main, ...used];
});
const shown = computed(() => (fileNames.value.includes(chosen.value) ? chosen.value : sheet.value.main));
/** The library is not part of the sheet. */
const fixed = computed(() => files.value[shown.value] === undefined);

const fileText = (name: string): string =>
  name === LIBRARY_FILE && files.value[name] === undefined ? "the device library (to be read only)" : name;

function ShownFile() {
  if (fileNames.value.length < 2) return <>{shown}</>;
  return (
    <>
      <label for="netlist-file">file </label>
      <select
        id="netlist-file"
        value={shown.value}
        onChange={({ currentTarget }) => {
          chosen.value = currentTarget.value;
        }}
      >
        {fileNames.value.map((name) => (
          <option key={name} value={name}>
            {fileText(name)}
          </option>
        ))}
      </select>
    </>
  );
}

/** Longer lists help nobody: the next ones come when these are mended. */
const LISTED = 4;

const counted = (count: number, what: string) => `${count} ${what}${count === 1 ? "" : "s"}`;

function verdict(): string {
  const [wrong, all] = [errors.value.length, diagnostics.value.length];
  const doubtful = all === wrong ? "" : counted(all - wrong, "warning");
  if (wrong === 0) return doubtful === "" ? "Read without complaint." : `Read, with ${doubtful}.`;
  const more = doubtful === "" ? "" : ` and ${doubtful}`;
  const state = circuit.value === undefined ? "" : " The sheet above is the last good state.";
  return `${counted(wrong, "error")}${more}.${state}`;
}

function Problems() {
  const [first, ...others] = errors.value.slice(0, LISTED);
  const problems = first === undefined ? diagnostics.value.slice(0, LISTED) : [first, ...others];
  return (
    <>
      <p class={first === undefined ? "faint" : "look"}>{verdict()}</p>
      <ul class="problems">
        {problems.map((each) => (
          <li key={`${each.file} ${each.line} ${each.column} ${each.message}`}>
            <button
              type="button"
              class="word"
              onClick={() => {
                chosen.value = each.file;
                wanted.value = { ...each };
              }}
            >
              {each.file === shown.value ? "" : `${each.file}, `}line {each.line}
            </button>{" "}
            {each.message}
          </li>
        ))}
      </ul>
    </>
  );
}

/** A netlist to be typed over, the hand on its title. */
function beginOwn(): void {
  const file = openOwn();
  const title = OWN.split("\n").findIndex((line) => line.startsWith("circuit")) + 1;
  wanted.value = { severity: "warning", message: "", file, line: title, column: 10, length: 0 };
}

function Netlist() {
  return (
    <>
      <p class="netlist-files">
        <ShownFile />
        <button type="button" class="word" onClick={beginOwn}>
          begin one of your own
        </button>
      </p>
      <Editor file={shown} fixed={fixed} wanted={wanted} />
      <Problems />
      <p class="faint editor-keys">
        The sheet follows what you type. Ctrl+Space offers what may stand there, the arrow keys and Enter take
        it, Escape closes the offer; Tab leaves the editor.
      </p>
    </>
  );
}

export const netlist: Section = { id: "netlist", title: "Netlist", Content: Netlist };
