import {
  closeSync,
  openSync,
  readdirSync,
  readFileSync,
  readSync,
  realpathSync,
  writeFileSync,
} from "node:fs";
import { dirname, join } from "node:path";
import type { Environment } from "./environment.ts";
import { isKeyboard, outlet, pauseBriefly } from "./standard-streams.ts";

/** Characters to a line where nobody says: a pipe, a file. */
const PLAIN_WIDTH = 100;
const CHUNK = 65536;

/** The environment of a real process. */
export function nodeEnvironment(process: NodeJS.Process): Environment {
  const { env } = process;
  const stdout = outlet(1, process);
  const stderr = outlet(2, process);
  const plain = (env.NO_COLOR ?? "") !== "" || env.TERM === "dumb";
  return {
    stdout: stdout.write,
    stderr: stderr.write,
    ...(stderr.terminal && { progress: (text: string) => stderr.write(`\r${text}\u001b[K`) }),
    ...interruptible(process),
    readFile,
    writeFile: (path, text) => writeFileSync(path, text),
    listFolder,
    page: () => builtPage(process.argv[1] ?? ""),
    get keyboard() {
      return isKeyboard(process);
    },
    width: lineWidth(env.COLUMNS, stdout.columns),
    color: stdout.terminal && !plain,
    errorColor: stderr.terminal && !plain,
  };
}

/** The first Ctrl-C asks a run that looks for it to end; the second, or one that nobody looks for, ends the program. */
function interruptible(process: NodeJS.Process): Pick<Environment, "interrupted" | "pause"> {
  let asked = false;
  const ask = () => {
    asked = true;
  };
  return {
    interrupted: () => asked,
    pause: () => {
      if (!asked && process.listenerCount("SIGINT") === 0) process.once("SIGINT", ask);
      return new Promise((resolve) => void setImmediate(resolve));
    },
  };
}

function lineWidth(asked: string | undefined, terminal: number | undefined): number {
  const columns = Number(asked);
  if (Number.isInteger(columns) && columns > 0) return columns;
  return terminal !== undefined && terminal > 0 ? terminal : PLAIN_WIDTH;
}

function listFolder(path: string): readonly string[] {
  try {
    return readdirSync(path);
  } catch {
    return [];
  }
}

function readFile(path: string, limit: number): Uint8Array {
  if (path === "-") return readDescriptor(0, limit);
  const descriptor = openSync(path, "r");
  try {
    return readDescriptor(descriptor, limit);
  } finally {
    closeSync(descriptor);
  }
}

/** Where the page lies from the program: beside the bundle, or in `dist/` of a checkout that runs its sources. */
const PAGE_PLACES = ["preprobe.html", "../../dist/preprobe.html"];

function builtPage(program: string): string | undefined {
  for (const place of PAGE_PLACES) {
    try {
      return readFileSync(join(dirname(realpathSync(program)), place), "utf8");
    } catch {
      // the next place
    }
  }
  return undefined;
}

/** Reads piece by piece, so that neither a huge file nor an endless device fills the memory. */
function readDescriptor(descriptor: number, limit: number): Uint8Array {
  const pieces: Uint8Array[] = [];
  let length = 0;
  while (length < limit) {
    const piece = new Uint8Array(Math.min(CHUNK, limit - length));
    const count = readPiece(descriptor, piece);
    if (count === 0) break;
    pieces.push(piece.subarray(0, count));
    length += count;
  }
  return Buffer.concat(pieces, length);
}

/** A terminal or pipe that is not ready says EAGAIN; wait a moment and ask again. */
function readPiece(descriptor: number, piece: Uint8Array): number {
  for (;;) {
    try {
      return readSync(descriptor, piece, 0, piece.length, null);
    } catch (error) {
      const code = (error as NodeJS.ErrnoException).code;
      if (code === "EOF") return 0;
      if (code !== "EAGAIN") throw error;
      pauseBriefly();
    }
  }
}
