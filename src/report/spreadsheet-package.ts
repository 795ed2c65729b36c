/** The content of a packed OpenDocument file (.ods): a ZIP archive with the flat file's body as `content.xml`. */
import { Unzip, UnzipInflate } from "fflate";
import type { Unreadable } from "./read-markup.ts";

const CONTENT = "content.xml";
/** A worksheet of a thousand points has a tenth of this, in characters. */
const LARGEST = 5e6;
/** Unpacked piece by piece, so that an archive made to burst is left at once: a byte may become a thousand. */
const PIECE = 4096;

/** Whether a file is packed, by its first bytes, whatever it is called. */
export const isPackage = (bytes: Uint8Array): boolean =>
  bytes[0] === 0x50 && bytes[1] === 0x4b && (bytes[2] === 3 || bytes[2] === 5);

/** The text of `content.xml`, or why there is none. Never throws, nor unpacks more than 5 MB and a piece. */
export function contentOf(bytes: Uint8Array): string | Unreadable {
  const pieces: Uint8Array[] = [];
  let found = false;
  let complete = false;
  let size = 0;
  try {
    const unzip = new Unzip((file) => {
      if (file.name !== CONTENT || found) return;
      found = true;
      file.ondata = (error, piece, final) => {
        if (error) throw error;
        pieces.push(piece);
        size += piece.length;
        complete ||= final;
      };
      file.start();
    });
    unzip.register(UnzipInflate);
    for (let at = 0; at < bytes.length && !complete && size <= LARGEST; at += PIECE) {
      unzip.push(bytes.subarray(at, at + PIECE), at + PIECE >= bytes.length);
    }
  } catch {
    return { message: "the archive is damaged" };
  }
  if (size > LARGEST) return { message: `unpacked it is larger than ${LARGEST / 1e6} MB; no worksheet is` };
  if (!found) return { message: "it is an archive, but not of an OpenDocument spreadsheet" };
  return complete ? textOf(pieces, size) : { message: "the archive is cut off" };
}

function textOf(pieces: readonly Uint8Array[], size: number): string | Unreadable {
  const whole = new Uint8Array(size);
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(whole);
  } catch {
    return { message: "its content is no text: it is damaged, or locked with a password" };
  }
}
