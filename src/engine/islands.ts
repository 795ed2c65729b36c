import type { Circuit } from "../circuit/circuit.ts";
import { kindOf } from "../parts/index.ts";
import type { Entries, Stamps } from "./stamps.ts";
import type { Unknowns } from "./unknowns.ts";

/** Sets that grow together (union-find), over state numbers. */
class Islands {
  readonly #parent: Int32Array;

  constructor(size: number) {
    this.#parent = Int32Array.from({ length: size }, (_, k) => k);
  }

  root(k: number): number {
    const parent = this.#parent;
    while (parent[k] !== k) {
      parent[k] = parent[parent[k]!]!;
      k = parent[k]!;
    }
    return k;
  }

  join(a: number, b: number): void {
    this.#parent[this.root(a)] = this.root(b);
  }
}

/** Nodes that hang free in the circuit as it stands: one of each island, and all nets of the islands. */
export interface FreeNodes {
  /** One state number an island; held at 0 V through a conductance that carries no current. */
  readonly held: readonly number[];
  /** Indices into `Circuit.nets`. */
  readonly nets: readonly number[];
}

/** Joins nodes by what passes direct current and, with `alternating`, by capacitors as well. */
export function freeNodes(
  circuit: Circuit,
  unknowns: Unknowns,
  stamps: Stamps,
  alternating: boolean,
): FreeNodes {
  const islands = new Islands(unknowns.stateSize);
  const isNode = (k: number) => k === unknowns.size || unknowns.list[k]?.kind === "node";
  const joinEntries = ({ row, column, value }: Entries) => {
    for (let e = 0; e < row.length; e++) {
      if (value[e] !== 0 && isNode(row[e]!) && isNode(column[e]!)) islands.join(row[e]!, column[e]!);
    }
  };
  joinEntries(stamps.g);
  if (alternating) joinEntries(stamps.c);
  circuit.parts.forEach((part, k) => {
    const locals = unknowns.locals[k]!;
    for (const [a, b] of kindOf(part).conducts?.(part) ?? []) islands.join(locals[a]!, locals[b]!);
  });
  const chassis = islands.root(unknowns.size);
  const free = (k: number) => islands.root(k) !== chassis;
  const held = new Map<number, number>();
  for (let k = 0; k < unknowns.electrical; k++) {
    if (isNode(k) && free(k) && !held.has(islands.root(k))) held.set(islands.root(k), k);
  }
  return {
    held: [...held.values()],
    nets: circuit.nets.flatMap((_, n) => (n > 0 && free(unknowns.net[n]!) ? [n] : [])),
  };
}
