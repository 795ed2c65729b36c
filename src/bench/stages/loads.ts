/** The resistances of the hand formula, read off the parts as one reads them off the diagram. */
import type { LinearCircuit, PlacedTransistor } from "./linear-circuit.ts";
import { size } from "./phasor.ts";
import { branchOhms } from "./resistances.ts";
import type { Resistance } from "./results.ts";
import { isStill } from "./supply-servants.ts";
import type { Branch, Wiring } from "./wiring.ts";

const parallel = (ohms: readonly number[]): number => 1 / ohms.reduce((sum, each) => sum + 1 / each, 0);

/** A net is as good as chassis to a resistor of twenty times its impedance. */
const STILL_SHARE = 0.05;

/** What the loads are read from: where the parts are and what they measure. */
export interface Diagram {
  readonly wiring: Wiring;
  readonly circuit: LinearCircuit;
}

function resistanceOf({ circuit, wiring }: Diagram, { index }: Branch): number {
  const [first] = wiring.circuit.parts[index]!.pins;
  const node = circuit.point.network.unknowns.net[first!.net]!;
  const other = circuit.point.network.unknowns.net[wiring.circuit.parts[index]!.pins[1]!.net]!;
  return branchOhms(
    circuit.working([
      [node, 1],
      [other, -1],
    ]),
    index,
  );
}

function isGround(diagram: Diagram, net: number, ohms: number): boolean {
  if (isStill(diagram.wiring, net)) return true;
  const node = diagram.circuit.point.network.unknowns.net[net]!;
  return size(diagram.circuit.working([[node, 1]]).at(node)) < STILL_SHARE * ohms;
}

const symbolOf = (branches: readonly { readonly branch: Branch }[]): string =>
  branches.map(({ branch }) => branch.part.name).join("∥");

/** Resistors from the net to one that signals do not move. */
function grounded(diagram: Diagram, net: number) {
  return diagram.wiring
    .resistorsAt(net)
    .map((branch) => ({ branch, ohms: resistanceOf(diagram, branch) }))
    .filter(({ branch, ohms }) => isGround(diagram, branch.far, ohms));
}

/** The collector's resistor; nothing where it works into a coil, a transformer or another transistor. */
export function collectorResistance(diagram: Diagram, { part }: PlacedTransistor): Resistance | undefined {
  const net = diagram.wiring.at(part, 2);
  const found = grounded(diagram, net);
  const coils = ["transformer", "inductor", "loudspeaker", "head"].some(
    (kind) => diagram.wiring.partsAt(net, kind).length > 0,
  );
  if (coils || found.length === 0 || diagram.wiring.transistorsAt(net, 0).length > 0) return undefined;
  const ohms = parallel(found.map((each) => each.ohms));
  return { symbol: symbolOf(found), ohms, meaning: "from collector to supply" };
}

/** The name of what stands at the collector where no resistor does. */
export function loadName({ wiring }: Diagram, { part }: PlacedTransistor): string {
  const net = wiring.at(part, 2);
  const coil = ["transformer", "inductor", "loudspeaker", "head"].flatMap((kind) =>
    wiring.partsAt(net, kind),
  );
  const upper = wiring.transistorsAt(net, 0);
  const named = coil[0] ?? upper[0];
  return named === undefined ? "what is connected" : named.name;
}

/** All resistors from the emitter to where signals do not move, for a follower. */
export function emitterLoad(diagram: Diagram, { part }: PlacedTransistor): Resistance | undefined {
  const found = grounded(diagram, diagram.wiring.at(part, 0));
  if (found.length === 0) return undefined;
  const ohms = parallel(found.map((each) => each.ohms));
  return { symbol: symbolOf(found), ohms, meaning: "from emitter to chassis or supply" };
}

/** The unbypassed part of the emitter's resistors, and the capacitor that bypasses, if one is meant to. */
export interface EmitterResistance {
  readonly unbypassed?: Resistance;
  readonly bypass?: string;
}

/** A capacitor is meant to bypass a resistor that is greater than its reactance at 1 kHz. */
function bypassOf({ wiring }: Diagram, net: number, ohms: number): string | undefined {
  return wiring
    .capacitorsAt(net)
    .find(
      ({ part, far }) =>
        isStill(wiring, far) && 1 / (2 * Math.PI * 1000 * (part.values.capacitance ?? 0)) < ohms,
    )?.part.name;
}

/** The least resistor from a net to one not yet visited. */
const leastOnward = (diagram: Diagram, net: number, visited: ReadonlySet<number>) =>
  diagram.wiring
    .resistorsAt(net)
    .map((branch) => ({ branch, ohms: resistanceOf(diagram, branch) }))
    .filter(({ branch }) => !visited.has(branch.far))
    .toSorted((a, b) => a.ohms - b.ohms)[0];

/**
 * Walks from the emitter along its resistors to the first net that is still or bypassed. `opposite` is moved the
 * opposite way, as the other half of a push-pull stage: what its emitter has in common is still.
 */
export function emitterResistance(
  diagram: Diagram,
  { part }: PlacedTransistor,
  opposite?: PlacedTransistor,
): EmitterResistance {
  const { wiring } = diagram;
  const names: string[] = [];
  let sum = 0;
  let net = wiring.at(part, 0);
  const common = opposite === undefined ? new Set<number>() : emitterNets(diagram, opposite, net);
  const visited = new Set<number>();
  while (!wiring.isSupply(net) && !visited.has(net) && !common.has(net)) {
    visited.add(net);
    const onward = leastOnward(diagram, net, visited);
    const bypass = bypassOf(diagram, net, onward?.ohms ?? Number.POSITIVE_INFINITY);
    if (bypass !== undefined) return { ...unbypassed(names, sum), bypass };
    if (onward === undefined) break;
    names.push(onward.branch.part.name);
    sum += onward.ohms;
    net = onward.branch.far;
  }
  return unbypassed(names, sum);
}

/** The nets that such a walk passes, not by way of the other emitter's net `apart`. */
function emitterNets(diagram: Diagram, { part }: PlacedTransistor, apart: number): ReadonlySet<number> {
  const { wiring } = diagram;
  const nets = new Set<number>();
  let net: number | undefined = wiring.at(part, 0);
  while (net !== undefined && !wiring.isSupply(net)) {
    nets.add(net);
    net = leastOnward(diagram, net, new Set([...nets, apart]))?.branch.far;
  }
  return nets;
}

const unbypassed = (names: readonly string[], ohms: number): EmitterResistance =>
  names.length === 0
    ? {}
    : { unbypassed: { symbol: names.join("+"), ohms, meaning: "unbypassed, at the emitter" } };
