import { basename, dirname, join } from "node:path";
import { nearestWord } from "../language/nearest.ts";
import type { Files } from "../language/read.ts";
import type { Environment } from "./environment.ts";
import { Refusal } from "./refusal.ts";

/** No circuit traced by hand comes near this many bytes. */
const LARGEST = 5e6;

/** How messages call a file. */
const called = (path: string) => (path === "-" ? "standard input" : path);

/** What is expected in a file. */
type Expected = "netlist" | "table" | "worksheet";

/** The text of a file. Refuses what cannot be what is expected, in a sentence; an empty file its reader refuses. */
export function readText(path: string, environment: Environment, expected: Expected = "netlist"): string {
  return decode(readWhole(path, environment, expected), called(path), expected);
}

/** The bytes of a file that is not too large. */
export function readWhole(path: string, environment: Environment, expected: Expected): Uint8Array {
  if (path === "-" && environment.keyboard) {
    environment.stderr(`reading the ${expected} from the keyboard; Ctrl-D ends it\n`);
  }
  const bytes = readBytes(path, environment, expected);
  if (bytes.length > LARGEST) {
    throw new Refusal(
      `${called(path)} is larger than ${LARGEST / 1e6} MB; no ${expected} is`,
      "is this the file you meant?",
    );
  }
  return bytes;
}

function readBytes(path: string, environment: Environment, expected: Expected): Uint8Array {
  try {
    return environment.readFile(path, LARGEST + 1);
  } catch (error) {
    const { code } = error as { code?: string };
    throw code === undefined ? error : unreadable(path, code, environment, expected);
  }
}

function unreadable(path: string, code: string, environment: Environment, expected: Expected): Refusal {
  switch (code) {
    case "ENOENT":
    case "ENOTDIR":
      return missing(path, environment);
    case "EISDIR":
      return new Refusal(
        `${path} is a folder, not a ${expected}`,
        expected === "netlist" ? inFolder(path, environment) : undefined,
      );
    case "EACCES":
    case "EPERM":
      return new Refusal(`${path} may not be read`, "look at the permissions of the file");
    case "ENAMETOOLONG":
      return new Refusal("the file name is too long");
    default:
      return new Refusal(`${called(path)} cannot be read (${code})`);
  }
}

const isNetlist = (name: string) => name.endsWith(".netlist");

function inFolder(path: string, environment: Environment): string | undefined {
  const netlists = environment.listFolder(path).filter(isNetlist);
  if (netlists.length === 0) return undefined;
  const shown = netlists.slice(0, 3).map((name) => join(path, name));
  return `it holds ${shown.join(", ")}${netlists.length > 3 ? " …" : ""}`;
}

/** There is no such file. */
class NoFile extends Refusal {}

function missing(path: string, environment: Environment): NoFile {
  const folder = dirname(path);
  const names = environment.listFolder(folder);
  const name = basename(path);
  const near = names.includes(`${name}.netlist`) ? `${name}.netlist` : nearestFile(name, names);
  const hint = near === undefined ? inFolder(folder, environment) : `did you mean ${join(folder, near)}?`;
  return new NoFile(`there is no file ${path}`, hint);
}

/** The ending, which netlists have in common, says nothing about which of them was meant. */
function nearestFile(name: string, names: readonly string[]): string | undefined {
  if (!isNetlist(name)) return nearestWord(name, names);
  const stem = (whole: string) => whole.slice(0, -".netlist".length);
  const near = nearestWord(stem(name), names.filter(isNetlist).map(stem));
  return near && `${near}.netlist`;
}

const startsWith = (bytes: Uint8Array, mark: readonly number[]) => mark.every((byte, i) => bytes[i] === byte);

/** UTF-8 text without byte-order mark. */
function decode(bytes: Uint8Array, name: string, expected: Expected): string {
  if (startsWith(bytes, [0xff, 0xfe]) || startsWith(bytes, [0xfe, 0xff])) {
    throw new Refusal(`${name} is written in UTF-16`, "save it as UTF-8");
  }
  if (bytes.includes(0)) throw new Refusal(`${name} is not text`, `a ${expected} is a text file in UTF-8`);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    const line = lineOfBadByte(bytes);
    throw new Refusal(
      `${name} is not UTF-8: line ${line} holds bytes that are no character`,
      "save it as UTF-8",
    );
  }
}

/** The first line that does not decode. */
function lineOfBadByte(bytes: Uint8Array): number {
  const lenient = new TextDecoder("utf-8").decode(bytes);
  return lenient.slice(0, lenient.indexOf("\uFFFD")).split("\n").length;
}

/** Reads the files that `use "FILE"` names, beside the file that names them. */
export function filesBeside(environment: Environment): Files {
  return (name, from) => {
    try {
      return readText(from === "-" ? name : join(dirname(from), name), environment);
    } catch (error) {
      if (error instanceof NoFile) return undefined;
      if (error instanceof Refusal) return error;
      throw error;
    }
  };
}
