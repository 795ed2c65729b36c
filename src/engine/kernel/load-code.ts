import type { DevicePlaces, Taken, TakenPlaces } from "./load-places.ts";
import type { CodedFunction } from "./machine-code.ts";
import { PairMachineCode } from "./pair-machine-code.ts";
import type { PairMemory } from "./pair-memory.ts";
import { BYTES, CONDUCTANCE, PAIR, type PairPlaces } from "./pair-places.ts";

const POINTS = [0, 1] as const;

/**
 * Code that tells by how much the unknowns of every device have moved since it was looked at, `moved`, and the
 * largest square of that, weighed, `bends`.
 */
export function movedCode(
  devices: readonly DevicePlaces[],
  taken: readonly TakenPlaces[][],
  places: PairPlaces,
): CodedFunction {
  const code = new PairMachineCode();
  devices.forEach(({ local, unknown }, d) => {
    for (const point of POINTS) {
      const { x, moved } = taken[d][point];
      local.forEach((k, m) => {
        code.base().loadSingle(places.x + unknown[m] * PAIR + point * BYTES);
        code.loadSingle(x + k * BYTES).minus();
        code.storeSingle(moved + k * BYTES);
      });
      code.base().double(0);
      local.forEach((k, m) => {
        code.loadSingle(moved + k * BYTES).loadSingle(moved + k * BYTES);
        code
          .times()
          .loadSingle(places.weight + unknown[m] * BYTES)
          .times();
        code.max();
      });
      code.storeSingle(places.bends + (2 * d + point) * BYTES);
    }
  });
  return { name: "moved", takesDoubles: 0, givesDouble: false, pairs: 0, code };
}

interface Addend {
  readonly d: number;
  /** Place in the device's arrays. */
  readonly at: number;
}

/** What the devices add, by slot or by row. */
function addends(
  devices: readonly DevicePlaces[],
  targets: (places: DevicePlaces) => readonly [Int32Array, Int32Array],
) {
  const found = new Map<number, Addend[]>();
  devices.forEach((device, d) => {
    const [to, at] = targets(device);
    to.forEach((target, k) => {
      const list = found.get(target) ?? [];
      list.push({ d, at: at[k] });
      found.set(target, list);
    });
  });
  return found;
}

/**
 * Code that adds the devices to what the linear parts have left: to f and q by their tangents, from where they
 * were looked at to where the unknowns are now (`moved`), and to the slopes.
 */
export function loadCode(
  devices: readonly DevicePlaces[],
  taken: readonly TakenPlaces[][],
  places: PairPlaces,
): CodedFunction {
  const code = new PairMachineCode();
  const rows = addends(devices, ({ unknown, local }) => [unknown, local]);
  for (const [row, list] of rows) {
    for (const point of POINTS) {
      const address = row * PAIR + point * BYTES;
      code.base().loadSingle(places.f + address);
      for (const { d, at } of list) {
        const { current, slope } = taken[d][point];
        tangent(code, devices[d].slopeAt, devices[d].size, at, current, slope, taken[d][point].moved);
        code.minus();
      }
      code.storeSingle(places.f + address);
      code.base().loadSingle(places.q + address);
      for (const { d, at } of list) {
        const { charge, capacitance } = taken[d][point];
        tangent(code, devices[d].chargeAt, devices[d].size, at, charge, capacitance, taken[d][point].moved);
        code.plus();
      }
      code.storeSingle(places.q + address);
    }
  }
  const slopes = addends(devices, ({ slopeSlot, slopeAt }) => [slopeSlot, slopeAt]);
  for (const [s, list] of slopes) {
    for (const point of POINTS) {
      code.base().loadSingle(places.linearG + s * BYTES);
      for (const { d, at } of list) code.loadSingle(taken[d][point].slope + at * BYTES).plus();
      code.storeSingle(places.g + (CONDUCTANCE * s + 2 * point) * BYTES);
    }
  }
  const charges = addends(devices, ({ chargeSlot, chargeAt }) => [chargeSlot, chargeAt]);
  for (const [s, list] of charges) {
    for (const point of POINTS) {
      code.base().loadSingle(places.linearC + s * BYTES);
      for (const { d, at } of list) code.loadSingle(taken[d][point].capacitance + at * BYTES).plus();
      code.storeSingle(places.c + s * PAIR + point * BYTES);
    }
  }
  return { name: "load", takesDoubles: 0, givesDouble: false, pairs: 0, code };
}

/** Pushes value + Σ slope·moved of one row of a device. */
function tangent(
  code: PairMachineCode,
  slopesAt: Int32Array,
  size: number,
  row: number,
  value: number,
  slope: number,
  moved: number,
): void {
  code.loadSingle(value + row * BYTES);
  for (const at of slopesAt) {
    if (Math.floor(at / size) !== row) continue;
    code
      .loadSingle(slope + at * BYTES)
      .loadSingle(moved + (at % size) * BYTES)
      .times()
      .plus();
  }
}

/** The same by loops. */
export function moveByLoops(devices: readonly DevicePlaces[], memory: PairMemory): void {
  const { taken, x, weight, bends } = memory;
  devices.forEach(({ local, unknown }, d) => {
    for (const point of POINTS) {
      const { moved, x: from } = taken[d][point];
      let largest = 0;
      for (let m = 0; m < local.length; m++) {
        const by = x[2 * unknown[m] + point] - from[local[m]];
        moved[local[m]] = by;
        largest = Math.max(largest, by * by * weight[unknown[m]]);
      }
      bends[2 * d + point] = largest;
    }
  });
}

export function loadByLoops(devices: readonly DevicePlaces[], memory: PairMemory): void {
  const { g, c, linearG, linearC, f, q } = memory;
  for (const { slopeSlot, chargeSlot } of devices) {
    for (const s of slopeSlot) g[CONDUCTANCE * s] = g[CONDUCTANCE * s + 2] = linearG[s];
    for (const s of chargeSlot) c[2 * s] = c[2 * s + 1] = linearC[s];
  }
  devices.forEach((device, d) => {
    const { size, local, unknown, slopeAt, slopeSlot, chargeAt, chargeSlot } = device;
    for (const point of POINTS) {
      const { currents, charges, moved } = memory.taken[d][point] as Taken;
      const row = new Int32Array(size);
      local.forEach((k, m) => {
        row[k] = 2 * unknown[m] + point;
      });
      for (let m = 0; m < local.length; m++) {
        f[2 * unknown[m] + point] -= currents.current[local[m]];
        q[2 * unknown[m] + point] += charges.current[local[m]];
      }
      slopeAt.forEach((at, e) => {
        f[row[Math.floor(at / size)]] -= currents.slope[at] * moved[at % size];
        g[CONDUCTANCE * slopeSlot[e] + 2 * point] += currents.slope[at];
      });
      chargeAt.forEach((at, e) => {
        q[row[Math.floor(at / size)]] += charges.slope[at] * moved[at % size];
        c[2 * chargeSlot[e] + point] += charges.slope[at];
      });
    }
  });
}
