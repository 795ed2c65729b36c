import type { DevicePlaces, Taken, TakenPlaces } from "./load-places.ts";
import type { CodedFunction } from "./machine-code.ts";
import { PairMachineCode } from "./pair-machine-code.ts";
import type { PairMemory } from "./pair-memory.ts";
import { BYTES, CONDUCTANCE, PAIR, type PairPlaces } from "./pair-places.ts";

const POINTS = [0, 1] as const;

/**
 * Code that tells by how much the unknowns of every device have moved since it was looked at, `moved`, and how far
 * off its tangents that makes it, weighed, `bends`; returns the largest of these.
 */
export function movedCode(
  devices: readonly DevicePlaces[],
  taken: readonly TakenPlaces[][],
  places: PairPlaces,
): CodedFunction {
  const code = new PairMachineCode();
  const most = 0;
  devices.forEach((device, d) => {
    const { local, unknown, bends } = device;
    for (const point of POINTS) {
      const { x, moved, perVolt } = taken[d][point];
      local.forEach((k, m) => {
        code.base().loadSingle(places.x + unknown[m] * PAIR + point * BYTES);
        code.loadSingle(x + k * BYTES).minus();
        code.storeSingle(moved + k * BYTES);
      });
      code.base().double(0);
      bends.forEach(([plus, minus], n) => {
        for (let factor = 0; factor < 2; factor++) {
          code.loadSingle(moved + plus * BYTES);
          if (minus >= 0) code.loadSingle(moved + minus * BYTES).minus();
        }
        code
          .times()
          .loadSingle(perVolt + n * BYTES)
          .times();
        code.double(0);
        for (const k of weighedBy(device, n)) code.loadSingle(places.weight + k * BYTES).max();
        code.times().max();
      });
      code.storeSingle(places.bends + (2 * d + point) * BYTES);
      code.get(most).loadSingle(places.bends + (2 * d + point) * BYTES);
      code.max().set(most);
    }
  });
  code.get(most);
  return { name: "moved", takesDoubles: 0, givesDouble: true, doubles: 1, pairs: 0, code };
}

/** Unknowns of the system by whose weights a pair's error counts: the heavier of the two. */
const weighedBy = ({ local, unknown, bends }: DevicePlaces, pair: number): number[] =>
  bends[pair].flatMap((k) => {
    const m = local.indexOf(k);
    return m < 0 ? [] : [unknown[m]];
  });

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
 * were looked at to where the unknowns are now (`moved`).
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
  return { name: "load", takesDoubles: 0, givesDouble: false, pairs: 0, code };
}

/** Code that adds the devices' slopes to those of the linear parts. */
export function slopesCode(
  devices: readonly DevicePlaces[],
  taken: readonly TakenPlaces[][],
  places: PairPlaces,
): CodedFunction {
  const code = new PairMachineCode();
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
  return { name: "slopes", takesDoubles: 0, givesDouble: false, pairs: 0, code };
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

/** What `movedCode` does, by loops. */
export function movingByLoops(devices: readonly DevicePlaces[], memory: PairMemory): () => number {
  const { taken, x, weight, bends } = memory;
  const weighed = devices.map((device) => device.bends.map((_, pair) => weighedBy(device, pair)));
  const off = (d: number, { moved, perVolt }: Taken): number => {
    let largest = 0;
    devices[d].bends.forEach(([plus, minus], pair) => {
      const by = moved[plus] - (minus < 0 ? 0 : moved[minus]);
      let heaviest = 0;
      for (const k of weighed[d][pair]) heaviest = Math.max(heaviest, weight[k]);
      largest = Math.max(largest, by * by * perVolt[pair] * heaviest);
    });
    return largest;
  };
  return () => {
    devices.forEach(({ local, unknown }, d) => {
      for (const point of POINTS) {
        const { moved, x: from } = taken[d][point];
        for (let m = 0; m < local.length; m++) moved[local[m]] = x[2 * unknown[m] + point] - from[local[m]];
        bends[2 * d + point] = off(d, taken[d][point]);
      }
    });
    return bends.reduce((most, each) => Math.max(most, each), 0);
  };
}

/** What `loadCode` does, by loops. */
export function loadByLoops(devices: readonly DevicePlaces[], memory: PairMemory): void {
  const { f, q } = memory;
  devices.forEach((device, d) => {
    const { size, local, unknown, slopeAt, chargeAt } = device;
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
      for (const at of slopeAt) f[row[Math.floor(at / size)]] -= currents.slope[at] * moved[at % size];
      for (const at of chargeAt) q[row[Math.floor(at / size)]] += charges.slope[at] * moved[at % size];
    }
  });
}

/** What `slopesCode` does, by loops. */
export function slopesByLoops(devices: readonly DevicePlaces[], memory: PairMemory): void {
  const { g, c, linearG, linearC } = memory;
  for (const { slopeSlot, chargeSlot } of devices) {
    for (const s of slopeSlot) g[CONDUCTANCE * s] = g[CONDUCTANCE * s + 2] = linearG[s];
    for (const s of chargeSlot) c[2 * s] = c[2 * s + 1] = linearC[s];
  }
  devices.forEach(({ slopeAt, slopeSlot, chargeAt, chargeSlot }, d) => {
    for (const point of POINTS) {
      const { currents, charges } = memory.taken[d][point] as Taken;
      slopeAt.forEach((at, e) => {
        g[CONDUCTANCE * slopeSlot[e] + 2 * point] += currents.slope[at];
      });
      chargeAt.forEach((at, e) => {
        c[2 * chargeSlot[e] + point] += charges.slope[at];
      });
    }
  });
}
