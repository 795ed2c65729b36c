/** What can be wrong with a file before a word of it is read. */
import type { Complaints } from "./complaints.ts";

const LARGEST = 5e6;
/** How much of a text may be control characters before it is taken for no text at all. */
const TOLERATED = 0.02;
const SAMPLE = 2000;

/** Whether `text` can be a netlist; complains at its first character if not. */
export function isReadable(file: string, text: string, complaints: Complaints): boolean {
  const at = { file, line: 1, column: 1, length: text === "" || text.startsWith("\n") ? 0 : 1 };
  if (text.length > LARGEST) {
    complaints.error(
      at,
      `${file} has ${Math.round(text.length / 1e6)} million characters, which is no netlist`,
      "a netlist has a line for each part; the largest that is read has 5 million characters",
    );
  } else if (isBinary(text)) {
    complaints.error(at, `${file} is not a text file`, "a netlist is plain text, saved as UTF-8");
  } else if (text.trim() === "") {
    complaints.error(at, `${file} is empty`, 'begin with circuit "TITLE" and a line for each part');
  } else return true;
  return false;
}

/** Judged by any NUL character, else by the first few thousand. */
function isBinary(text: string): boolean {
  if (text.includes("\u0000")) return true;
  const length = Math.min(text.length, SAMPLE);
  let strange = 0;
  for (let k = 0; k < length; k++) {
    const code = text.charCodeAt(k);
    if (code < 9 || (code > 13 && code < 32) || code === 0xfffd) strange += 1;
  }
  return strange > 8 && strange > TOLERATED * length;
}

/** The text as lines ended by `\n`, without a byte order mark. */
export function unified(text: string): string {
  const start = text.startsWith("\ufeff") ? text.slice(1) : text;
  return start.includes("\r") ? start.replace(/\r\n?/g, "\n") : start;
}

/** `name` as seen from the folder of the file `from`, with `.` and `..` resolved. */
export function beside(name: string, from: string): string {
  if (/^([/\\]|[A-Za-z]:|<)/.test(name)) return name;
  const folder = from.split("/").slice(0, -1);
  const path: string[] = [];
  for (const step of [...folder, ...name.split("/")]) {
    if (step === "." || (step === "" && path.length > 0)) continue;
    if (step === ".." && path.length > 0 && path.at(-1) !== ".." && path.at(-1) !== "") path.pop();
    else path.push(step);
  }
  return path.join("/");
}
