import { type Pattern, PatternBuilder } from "./kernel/pattern.ts";
import type { Network } from "./network.ts";

/** Where the values of a network's linear stamps and devices go in the matrix over its electrical unknowns. */
export interface ElectricalSlots {
  readonly pattern: Pattern;
  /** Slot of each entry of G and of C; −1 in the row or column of something known. */
  readonly g: Int32Array;
  readonly c: Int32Array;
  /** By device, slots of its local squares of conductances and of capacitances; −1 where there is none. */
  readonly slopes: readonly Int32Array[];
  readonly charges: readonly Int32Array[];
  /** Slots of the diagonals asked for. */
  readonly diagonals: Int32Array;
}

/** Gives every value a slot; `nodes` are the state numbers whose diagonals are needed besides. */
export function electricalSlots(
  { unknowns, stamps, devices }: Network,
  nodes: readonly number[],
): ElectricalSlots {
  const n = unknowns.electrical;
  const builder = new PatternBuilder(n);
  const slotOf = (row: number, column: number) => (row < n && column < n ? builder.slot(row, column) : -1);
  const g = Int32Array.from(stamps.g.row, (row, e) => slotOf(row, stamps.g.column[e]!));
  const c = Int32Array.from(stamps.c.row, (row, e) => slotOf(row, stamps.c.column[e]!));
  const squares = (which: "pattern" | "chargePattern") =>
    devices.map(({ device, locals }) =>
      Int32Array.from(device[which], (present, k) =>
        present ? slotOf(locals[Math.floor(k / device.size)]!, locals[k % device.size]!) : -1,
      ),
    );
  const slopes = squares("pattern");
  const charges = squares("chargePattern");
  const diagonals = Int32Array.from(nodes, (node) => slotOf(node, node));
  return { pattern: builder.finish(), g, c, slopes, charges, diagonals };
}

/** Adds values to their slots. */
export function scatter(into: Float64Array, slots: Int32Array, values: Float64Array): void {
  for (let e = 0; e < slots.length; e++) {
    const slot = slots[e]!;
    if (slot >= 0) into[slot]! += values[e]!;
  }
}
