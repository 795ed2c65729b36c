/**
 * Standard input, output and error, as far as they are needed. A file or a pipe is written to directly: the
 * streams that Node makes of them take a tenth of the time of a short run to load.
 */
import { fstatSync, writeSync } from "node:fs";
import { EXIT } from "./refusal.ts";

/** One of the two streams that are written to. */
export interface Outlet {
  readonly write: (text: string) => void;
  /** Whether a terminal shows it. */
  readonly terminal: boolean;
  /** Characters to a line of the terminal, if it says. */
  readonly columns?: number | undefined;
}

/** Whether the descriptor may be a terminal, or is something that Node knows better. */
function needsStream(descriptor: number): boolean {
  try {
    const about = fstatSync(descriptor);
    return !about.isFile() && !about.isFIFO() && !about.isSocket();
  } catch {
    return true;
  }
}

/** Standard output (1) or error (2). A reader that has seen enough (`preprobe … | head`) ends the program. */
export function outlet(descriptor: 1 | 2, process: NodeJS.Process): Outlet {
  if (!needsStream(descriptor)) return { write: (text) => writeAll(descriptor, text), terminal: false };
  const stream = descriptor === 1 ? process.stdout : process.stderr;
  stream.on("error", giveUp);
  return {
    write: (text) => void stream.write(text),
    terminal: stream.isTTY === true,
    columns: stream.columns,
  };
}

/** Whether a person types the standard input. */
export const isKeyboard = (process: NodeJS.Process): boolean =>
  needsStream(0) && process.stdin.isTTY === true;

function writeAll(descriptor: number, text: string): void {
  const bytes = Buffer.from(text);
  try {
    for (let done = 0; done < bytes.length; ) done += writePiece(descriptor, bytes.subarray(done));
  } catch (error) {
    giveUp(error as NodeJS.ErrnoException);
  }
}

/** How many bytes the other end has taken: none while it is not ready. */
function writePiece(descriptor: number, bytes: Uint8Array): number {
  try {
    return writeSync(descriptor, bytes);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "EAGAIN") throw error;
    pauseBriefly();
    return 0;
  }
}

/** Ends the program: quietly if nobody reads any more, which is no error, else with a sentence. */
function giveUp(error: NodeJS.ErrnoException): never {
  if (error.code === "EPIPE" || error.code === "EOF") process.exit();
  const reason = error.code === "ENOSPC" ? ": the disk is full" : ` (${error.code})`;
  try {
    writeSync(2, `preprobe: the output cannot be written${reason}\n`);
  } finally {
    process.exit(EXIT.badInput);
  }
}

/** Waits a moment for a terminal or pipe that is not ready. */
export const pauseBriefly = (): void => void Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 10);
