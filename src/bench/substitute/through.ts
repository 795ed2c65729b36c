/** Which paths go through a transistor: those whose gain is another one when it is dead. */
import type { PlacedDevice } from "../../engine/devices.ts";
import { SmallSignal } from "../../engine/small-signal.ts";
import type { Device } from "../../parts/kind.ts";
import type { SolvedMode } from "../run.ts";
import { PathMeter, pathsIn } from "./path-meter.ts";

/** Where the two gains are compared, Hz. */
const LOOKED_AT = [100, 1000, 10_000] as const;
/** A smaller change of the gain is none, dB. */
const NOTICED = 0.1;
/** What a dead transistor still conducts, S: enough that nothing floats. */
const LEFT = 1e-9;

/** Names of the paths of a solved mode that go through the part with this index. */
export function pathsThrough(solved: SolvedMode, part: number): readonly string[] {
  const alive = new PathMeter(solved);
  const dead = new PathMeter(solved, new SmallSignal(withDead(solved, part)));
  return pathsIn(solved)
    .filter((path) => {
      const [before, after] = [alive.gain(path), dead.gain(path)];
      return LOOKED_AT.some((hertz) => {
        const [a, b] = [before(hertz), after(hertz)];
        return a === undefined || b === undefined || Math.abs(a - b) > NOTICED;
      });
    })
    .map(({ name }) => name);
}

function withDead({ point }: SolvedMode, part: number) {
  const { network } = point;
  const devices = network.devices.map((placed) => (placed.part === part ? dead(placed) : placed));
  return { ...point, network: { ...network, devices } };
}

/** The same device with neither current nor charge. */
function dead(placed: PlacedDevice): PlacedDevice {
  const { size, junctions, pattern, chargePattern } = placed.device;
  const device: Device = {
    size,
    junctions,
    pattern,
    chargePattern,
    evaluate: (_, { current, slope }) => {
      current.fill(0);
      slope.fill(0);
      for (let k = 0; k < size; k++) if (pattern[k * size + k]) slope[k * size + k] = LEFT;
      return true;
    },
    remember: () => {},
    charges: (_, { current, slope }) => {
      current.fill(0);
      slope.fill(0);
    },
  };
  return {
    ...placed,
    device,
    load: { current: new Float64Array(size), slope: new Float64Array(size * size) },
  };
}
