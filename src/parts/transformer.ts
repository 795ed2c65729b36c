import type { Part, Winding } from "../circuit/circuit.ts";
import { LOSS } from "./coil.ts";
import { branch, type PartKind, type Port, resistance, value } from "./kind.ts";

/** One section of a winding: the coil between two neighbouring pins. */
interface Section {
  readonly from: number;
  readonly to: number;
  readonly dcr: number;
  readonly henries: number;
}

const turnsOf = (winding: Winding) => winding.turns.reduce((sum, n) => sum + n, 0);

const windingNamed = (part: Part, name: string | undefined): Winding | undefined =>
  part.windings?.find((winding) => winding.name === name) ?? part.windings?.[0];

/** Coils by L = Lmag·(N/N_ref)², dcr shared out by turns. */
function sections(part: Part): Section[] {
  const reference = windingNamed(part, part.choices["magnetising.on"]);
  const perTurnSquared = value(part, "magnetising") / (reference ? turnsOf(reference) ** 2 : 1);
  return (part.windings ?? []).flatMap((winding) =>
    winding.turns.map((turns, k) => ({
      from: winding.pins[k] ?? 0,
      to: winding.pins[k + 1] ?? 0,
      dcr: (winding.dcr * turns) / turnsOf(winding),
      henries: perTurnSquared * turns * turns,
    })),
  );
}

/** Coils and their joint flux: what the part declares as its own unknowns, in local order. */
const sectionCount = (part: Part) =>
  (part.windings ?? []).reduce((n, winding) => n + winding.turns.length, 0);

const ends = (winding: Winding): [number, number] => [winding.pins[0] ?? 0, winding.pins.at(-1) ?? 0];

/**
 * Windings on one core. With one coupling factor k for all, the inductance matrix is
 * (1 − k)·diag(L) + k·l·lᵀ with l = √L, so the common flux φ = Σ l·i is made an unknown of its own:
 * fewer entries, and k = 1 is exact instead of a difference of nearly equal numbers.
 */
export const transformer: PartKind = {
  keyword: "transformer",
  letters: "TR",
  summary: "transformer, any number of tapped windings",
  words: {
    magnetising: {
      key: "magnetising",
      unit: "henry",
      meaning: "inductance of a winding with the others open",
      default: 10,
      plausible: [1e-6, 1000],
      tails: [{ word: "on", key: "magnetising.on", names: "winding", optional: true }],
    },
    coupling: {
      key: "coupling",
      unit: "number",
      meaning: "coupling factor between all windings",
      zero: true,
      default: 1,
      plausible: [0, 1],
    },
    loss: { ...LOSS, tails: [{ word: "on", key: "loss.on", names: "winding", optional: true }] },
  },
  connection: { form: "windings" },
  check(part) {
    return (part.values.coupling ?? 1) > 1
      ? [
          {
            message: `${part.name}: a coupling factor is at most 1`,
            hint: "0.998 is usual for an audio transformer",
            key: "coupling",
          },
        ]
      : [];
  },
  unknowns(part) {
    const currents = Array.from(
      { length: sectionCount(part) },
      (_, k) => ({ kind: "branch", name: `current ${k + 1}` }) as const,
    );
    return [...currents, { kind: "branch", name: "flux" }];
  },
  stamp(part, into) {
    const coupling = value(part, "coupling");
    const first = part.pins.length;
    const coils = sections(part);
    const flux = first + coils.length;
    coils.forEach(({ from, to, dcr, henries }, k) => {
      const i = first + k;
      branch(into, from, to, i, dcr, "dcr");
      into.c(i, i, -(1 - coupling) * henries);
      into.c(i, flux, -coupling * Math.sqrt(henries));
      into.g(flux, i, -Math.sqrt(henries));
    });
    into.g(flux, flux, 1);
    const lossy = windingNamed(part, part.choices["loss.on"]);
    const ohms = part.values.loss;
    if (ohms !== undefined && lossy) resistance(into, ...ends(lossy), ohms, "loss");
  },
  ports: (part): Port[] =>
    (part.windings ?? []).map((winding) => {
      const [from, to] = ends(winding);
      return { name: `${part.name}.${winding.name}`, from, to };
    }),
  conducts: (part) => sections(part).map(({ from, to }) => [from, to] as const),
  stiff: (part) =>
    sections(part)
      .filter(({ dcr }) => dcr === 0)
      .map(({ from, to }) => [from, to] as const),
};
