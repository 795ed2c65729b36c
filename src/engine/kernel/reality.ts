import type { Elimination } from "./elimination.ts";

/** Which entries and pivots stay real through the elimination, so that half their work falls away. */
export class Reality {
  readonly entry: Uint8Array;
  readonly pivot: Uint8Array;

  constructor({ size, fixed, start, firstVarying, diagonal, column, isVarying }: Elimination) {
    this.entry = isVarying.map((varying) => 1 - varying);
    this.pivot = new Uint8Array(size).fill(1);
    const entryAt = new Int32Array(size);
    for (let i = fixed; i < size; i++) {
      for (let e = firstVarying[i]; e < start[i + 1]; e++) entryAt[column[e]] = e;
      for (let e = firstVarying[i]; e < diagonal[i]; e++) {
        const k = column[e];
        this.entry[e] &= this.pivot[k];
        for (let u = diagonal[k] + 1; u < start[k + 1]; u++) {
          this.entry[entryAt[column[u]]] &= this.entry[e] & this.entry[u];
        }
      }
      this.pivot[i] = this.entry[diagonal[i]];
    }
  }
}
