import type { Part } from "../../circuit/circuit.ts";
import { type Bench, type Draft, graded, simple } from "./draft.ts";
import { typicalSample } from "./sample.ts";

/** Shares of the weakest sample's hfe, and multiples of the greatest leakage of a good one. */
const HFE_LEFT = [0.02, 0.1, 0.6];
const LEAKAGE_RISE = [3, 15, 75, 400];

/** Four leads: one of them is the case. */
export const isScreened = ({ leads = "" }: { readonly leads?: string }): boolean =>
  /screen|shield/i.test(leads);

/** What a transistor may have. */
export function transistorFaults(part: Part, bench: Bench): readonly Draft[] {
  if (part.kind !== "transistor") return [];
  const { rig, circuit } = bench;
  const [e, b, c] = part.pins.map(({ net }) => net) as [number, number, number];
  const lead = (pin: string) => rig.lead(`${part.name}.${pin}`);
  const short = (key: Draft["key"], fault: string, from: number, to: number) =>
    rig.hasBridge(from, to) ? [simple(key, fault, rig.bridge(from, to))] : [];
  const type = circuit.types[part.type ?? ""];
  const screened = type !== undefined && isScreened(type);
  return [
    // with the emitter's or the collector's contact off, the junction is gone with it
    simple("transistor: base-emitter open", "base-emitter open", lead("e")),
    simple("transistor: collector-base open", "collector-base open", lead("c")),
    simple("transistor: base lead open", "base lead open", lead("b")),
    ...short("transistor: base-emitter short", "base-emitter short", b, e),
    ...short("transistor: collector-base short", "collector-base short", c, b),
    ...short("transistor: emitter-collector short", "emitter-collector short", e, c),
    ...(screened ? screenShorts(part, bench) : []),
    ...(type === undefined ? [] : sampleFaults(part, bench)),
    simple(
      "transistor: put in backwards",
      "emitter and collector exchanged",
      rig.exchange(part.name, ["e", "c"]),
    ),
  ];
}

const NAMES = ["emitter", "base", "collector"] as const;

/** The screen lies on chassis: whiskers bring a lead there. */
function screenShorts({ pins }: Part, { rig }: Bench): readonly Draft[] {
  return pins.flatMap(({ net }, k) =>
    rig.hasBridge(net, 0)
      ? [
          {
            ...simple(
              "transistor: lead shorted to its screen",
              `${NAMES[k]} shorted to the screen`,
              rig.bridge(net, 0),
            ),
            part: 1 / 3,
          },
        ]
      : [],
  );
}

function sampleFaults(part: Part, { circuit }: Bench): readonly Draft[] {
  const { leastHfe, greatestLeakage } = typicalSample(part, circuit);
  const at = (key: string) => (amount: number) => ({ [part.name]: { [key]: amount } });
  const hfe = HFE_LEFT.map((left) => left * leastHfe);
  const leakage = LEAKAGE_RISE.map((times) => times * greatestLeakage);
  return [
    graded("transistor: hfe low", "hfe low", "number", hfe, at("hfe")),
    graded("transistor: leakage high", "leakage high", "ampere", leakage, at("leakage")),
  ];
}
