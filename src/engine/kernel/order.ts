import { Buckets } from "./buckets.ts";
import type { Pattern } from "./pattern.ts";

/** The pivots in the order of their elimination. */
export interface Ordering {
  readonly pivotRow: Int32Array;
  readonly pivotColumn: Int32Array;
  /** Columns of the rows as they stood when their pivot was taken, pivot included: the rows of U. */
  readonly upper: readonly Int32Array[];
  /** Rows that had an entry below each pivot when it was taken: the columns of L. */
  readonly lower: readonly Int32Array[];
  /** So many first pivots have no varying entry in their rows and columns. */
  readonly fixed: number;
}

/** No usable pivot is left; these rows and columns remain. */
export interface SingularPattern {
  readonly singularRows: readonly number[];
  readonly singularColumns: readonly number[];
}

/** A pivot is at least this share of the largest entry of its row. */
const THRESHOLD = 0.001;
/** So many rows or columns of the lowest counts are looked at for each pivot. */
const CANDIDATES = 4;
/** Smaller than this, relative to the row's original entries, is rounding noise. */
const NOISE = 1e-13;

/** A fixed pivot may cost this much, in entries changed; a dearer one would burden every solve after it. */
const FIXED_COST = 9;

/** Values by slot; `imaginary` is left out for a real matrix. Columns are compared in units of `columnScale`. */
export interface MatrixValues {
  readonly real: Float64Array;
  readonly imaginary?: Float64Array | undefined;
  readonly columnScale?: Float64Array | undefined;
  /** 1 for slots whose values change from solve to solve: their rows and columns are eliminated last. */
  readonly varying?: Uint8Array | undefined;
}

/**
 * Pivot order of an unsymmetric sparse matrix after Markowitz (1957): at each step the entry with the
 * least (row count − 1)·(column count − 1) among those large enough in their row. The elimination is
 * carried out on the values, so the order holds for matrices of like values too; others are found out
 * by the pivot check of the replay.
 */
export function order(pattern: Pattern, values: MatrixValues): Ordering | SingularPattern {
  return new Ordered(pattern, values).run();
}

interface Candidate {
  readonly row: number;
  readonly column: number;
  readonly size: number;
  readonly cost: number;
}

type Consider = (row: number, column: number, size: number) => void;

/** The active part of the matrix: rows with values, columns as lists of rows. */
class Ordered {
  readonly #size: number;
  readonly #columns: number[][];
  readonly #re: number[][];
  readonly #im: number[][];
  readonly #rowsOf: number[][];
  readonly #noise: Float64Array;
  readonly #scale: Float64Array | undefined;
  readonly #byRow: Buckets;
  readonly #byColumn: Buckets;
  /** Rows and columns with varying entries; kept out of the buckets while fixed pivots are taken. */
  readonly #varyingRow: Uint8Array;
  readonly #varyingColumn: Uint8Array;
  readonly #rowGone: Uint8Array;
  readonly #columnGone: Uint8Array;
  #fixedOnly = true;
  /** Place of a column in the row being updated, plus 1; 0 if it has none. */
  readonly #place: Int32Array;
  readonly #least: Float64Array;

  constructor({ size, row, column }: Pattern, { real, imaginary, columnScale, varying }: MatrixValues) {
    this.#size = size;
    const lists = <T>() => Array.from({ length: size }, (): T[] => []);
    this.#columns = lists();
    this.#re = lists();
    this.#im = lists();
    this.#rowsOf = lists();
    this.#noise = new Float64Array(size);
    this.#scale = columnScale;
    this.#byRow = new Buckets(size, size);
    this.#byColumn = new Buckets(size, size);
    this.#place = new Int32Array(size);
    this.#least = new Float64Array(size);
    this.#varyingRow = new Uint8Array(size);
    this.#varyingColumn = new Uint8Array(size);
    this.#rowGone = new Uint8Array(size);
    this.#columnGone = new Uint8Array(size);
    for (let slot = 0; slot < row.length; slot++) {
      const r = row[slot];
      const c = column[slot];
      const im = imaginary === undefined ? 0 : imaginary[slot];
      if (varying?.[slot]) {
        this.#varyingRow[r] = 1;
        this.#varyingColumn[c] = 1;
      }
      this.#columns[r].push(c);
      this.#re[r].push(real[slot]);
      this.#im[r].push(im);
      this.#rowsOf[c].push(r);
      this.#noise[r] = Math.max(this.#noise[r], NOISE * this.#size1(c, real[slot], im));
    }
    for (let k = 0; k < size; k++) {
      this.#recountRow(k);
      this.#recountColumn(k);
    }
  }

  #recountRow(row: number): void {
    if (!this.#fixedOnly || this.#varyingRow[row] === 0) this.#byRow.put(row, this.#columns[row].length);
  }

  #recountColumn(column: number): void {
    if (!this.#fixedOnly || this.#varyingColumn[column] === 0)
      this.#byColumn.put(column, this.#rowsOf[column].length);
  }

  /** From here on any pivot will do. */
  #admitVarying(): void {
    this.#fixedOnly = false;
    for (let k = 0; k < this.#size; k++) {
      if (this.#rowGone[k] === 0) this.#recountRow(k);
      if (this.#columnGone[k] === 0) this.#recountColumn(k);
    }
  }

  /** Size of an entry in units of its column. */
  #size1(column: number, re: number, im: number): number {
    const size = Math.abs(re) + Math.abs(im);
    return this.#scale === undefined ? size : size * this.#scale[column];
  }

  run(): Ordering | SingularPattern {
    const size = this.#size;
    const pivotRow = new Int32Array(size);
    const pivotColumn = new Int32Array(size);
    const upper: Int32Array[] = [];
    const lower: Int32Array[] = [];
    let fixed = 0;
    for (let step = 0; step < size; step++) {
      const pivot = this.#choose();
      if (this.#fixedOnly) fixed++;
      if (pivot === undefined)
        return this.#remaining(pivotRow.subarray(0, step), pivotColumn.subarray(0, step));
      pivotRow[step] = pivot.row;
      pivotColumn[step] = pivot.column;
      lower.push(Int32Array.from(this.#rowsOf[pivot.column].filter((row) => row !== pivot.row)));
      upper.push(Int32Array.from(this.#columns[pivot.row]));
      this.#eliminate(pivot.row, pivot.column);
    }
    return { pivotRow, pivotColumn, upper, lower, fixed };
  }

  #remaining(rows: Int32Array, columns: Int32Array): SingularPattern {
    const left = (taken: Int32Array) => {
      const gone = new Set(taken);
      return Array.from({ length: this.#size }, (_, k) => k).filter((k) => !gone.has(k));
    };
    return { singularRows: left(rows), singularColumns: left(columns) };
  }

  /** The next pivot: a fixed one while there are any cheap enough, then any. */
  #choose(): Candidate | undefined {
    if (this.#fixedOnly) {
      const best = this.#search(Math.floor(Math.sqrt(FIXED_COST)) + 1);
      if (best !== undefined && best.cost <= FIXED_COST) return best;
      this.#admitVarying();
    }
    return this.#search(this.#size);
  }

  /** The entry of least cost among the rows and columns of least count, up to `mostCount`. */
  #search(mostCount: number): Candidate | undefined {
    let best: Candidate | undefined;
    let seen = 0;
    const consider = (row: number, column: number, size: number) => {
      const cost = (this.#columns[row].length - 1) * (this.#rowsOf[column].length - 1);
      if (best === undefined || cost < best.cost || (cost === best.cost && size > best.size)) {
        best = { row, column, size, cost };
      }
    };
    for (let count = 1; count <= mostCount; count++) {
      if (best !== undefined && best.cost <= (count - 1) * (count - 1)) return best;
      for (let c = this.#byColumn.head[count]; c >= 0; c = this.#byColumn.next[c]) {
        this.#considerColumn(c, consider);
        if (++seen >= CANDIDATES && best !== undefined) return best;
      }
      for (let r = this.#byRow.head[count]; r >= 0; r = this.#byRow.next[r]) {
        this.#considerRow(r, consider);
        if (++seen >= CANDIDATES && best !== undefined) return best;
      }
    }
    return best;
  }

  #considerRow(row: number, consider: Consider): void {
    const columns = this.#columns[row];
    const least = this.#leastPivot(row);
    for (let k = 0; k < columns.length; k++) {
      if (this.#fixedOnly && this.#varyingColumn[columns[k]]) continue;
      const size = this.#size1(columns[k], this.#re[row][k], this.#im[row][k]);
      if (size >= least) consider(row, columns[k], size);
    }
  }

  #considerColumn(column: number, consider: Consider): void {
    for (const row of this.#rowsOf[column]) {
      if (this.#fixedOnly && this.#varyingRow[row]) continue;
      const k = this.#columns[row].indexOf(column);
      const size = this.#size1(column, this.#re[row][k], this.#im[row][k]);
      if (size >= this.#leastPivot(row)) consider(row, column, size);
    }
  }

  /** What an entry of this row must reach to be a pivot; kept until the row changes. */
  #leastPivot(row: number): number {
    if (this.#least[row] > 0) return this.#least[row];
    let largest = 0;
    const columns = this.#columns[row];
    for (let k = 0; k < columns.length; k++) {
      largest = Math.max(largest, this.#size1(columns[k], this.#re[row][k], this.#im[row][k]));
    }
    const least = Math.max(THRESHOLD * largest, this.#noise[row], Number.MIN_VALUE);
    this.#least[row] = least;
    return least;
  }

  #eliminate(pivotRow: number, pivotColumn: number): void {
    const columns = this.#columns[pivotRow];
    const at = columns.indexOf(pivotColumn);
    const re = this.#re[pivotRow][at];
    const im = this.#im[pivotRow][at];
    const norm = re * re + im * im;
    for (const column of columns) this.#drop(column, pivotRow);
    for (const row of this.#rowsOf[pivotColumn]) {
      this.#subtract(row, pivotRow, pivotColumn, re / norm, -im / norm);
    }
    this.#rowsOf[pivotColumn] = [];
    this.#byColumn.remove(pivotColumn);
    this.#byRow.remove(pivotRow);
    this.#columnGone[pivotColumn] = 1;
    this.#rowGone[pivotRow] = 1;
    for (const column of columns) if (column !== pivotColumn) this.#recountColumn(column);
  }

  #drop(column: number, row: number): void {
    const rows = this.#rowsOf[column];
    const at = rows.indexOf(row);
    rows[at] = rows[rows.length - 1];
    rows.pop();
  }

  /** row ← row − (entry in the pivot column / pivot)·pivot row, with its fill. */
  #subtract(row: number, pivotRow: number, pivotColumn: number, inverseRe: number, inverseIm: number): void {
    const columns = this.#columns[row];
    const re = this.#re[row];
    const im = this.#im[row];
    for (let k = 0; k < columns.length; k++) this.#place[columns[k]] = k + 1;
    const at = this.#place[pivotColumn] - 1;
    const fRe = re[at] * inverseRe - im[at] * inverseIm;
    const fIm = re[at] * inverseIm + im[at] * inverseRe;
    removeAt(columns, at);
    removeAt(re, at);
    removeAt(im, at);
    this.#place[pivotColumn] = 0;
    if (at < columns.length) this.#place[columns[at]] = at + 1;
    const pivotColumns = this.#columns[pivotRow];
    for (let k = 0; k < pivotColumns.length; k++) {
      const column = pivotColumns[k];
      if (column === pivotColumn) continue;
      const uRe = this.#re[pivotRow][k];
      const uIm = this.#im[pivotRow][k];
      let place = this.#place[column] - 1;
      if (place < 0) {
        place = columns.push(column) - 1;
        re.push(0);
        im.push(0);
        this.#place[column] = place + 1;
        this.#rowsOf[column].push(row);
      }
      re[place] -= fRe * uRe - fIm * uIm;
      im[place] -= fRe * uIm + fIm * uRe;
    }
    for (const column of columns) this.#place[column] = 0;
    this.#least[row] = 0;
    this.#recountRow(row);
  }
}

/** Takes one element out; the order does not matter. */
function removeAt(list: number[], at: number): void {
  list[at] = list[list.length - 1];
  list.pop();
}
