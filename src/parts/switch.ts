import type { Part } from "../circuit/circuit.ts";
import { type PartKind, type Port, value } from "./kind.ts";

interface Contact {
  readonly common: number;
  readonly thrown: number;
  readonly closed: boolean;
}

/** The position a switch stands in: the one a mode or `--set` gave, else the first. */
export const positionOf = (part: Part): string | undefined => part.choices.position ?? part.positions?.[0];

/** Every contact a switch can make, those of its present position closed. */
export function contacts(part: Part): Contact[] {
  const position = positionOf(part);
  return (part.poles ?? []).flatMap((pole) =>
    Object.entries(pole.throws).map(([name, thrown]) => ({
      common: pole.common,
      thrown,
      closed: name === position,
    })),
  );
}

/**
 * A closed contact is a branch of a few milliohms, v_common − v_thrown − R·i = 0; an open one the same
 * branch with the equation i = 0, so that turning the switch leaves the structure as it is.
 */
export const switchKind: PartKind = {
  keyword: "switch",
  letters: "S",
  summary: "switch of any number of poles and positions",
  words: {
    contact: {
      key: "contact",
      unit: "ohm",
      meaning: "resistance of a closed contact",
      zero: true,
      default: 0.02,
      plausible: [1e-3, 100],
    },
  },
  connection: { form: "poles" },
  unknowns: (part) => contacts(part).map((_, k) => ({ kind: "branch", name: `contact ${k + 1}` }) as const),
  stamp(part, into) {
    const first = part.pins.length;
    contacts(part).forEach(({ common, thrown, closed }, k) => {
      const i = first + k;
      if (closed) into.seriesThermal?.(i, value(part, "contact"), "contact");
      into.g(common, i, 1);
      into.g(thrown, i, -1);
      into.g(i, common, closed ? 1 : 0);
      into.g(i, thrown, closed ? -1 : 0);
      into.g(i, i, closed ? -value(part, "contact") : -1);
    });
  },
  ports(part): Port[] {
    const position = positionOf(part) ?? "";
    return (part.poles ?? []).map((pole) => ({
      name: `${part.name}.${pole.name}`,
      from: pole.common,
      to: pole.throws[position] ?? pole.common,
    }));
  },
  conducts: (part) =>
    contacts(part)
      .filter((contact) => contact.closed)
      .map(({ common, thrown }) => [common, thrown] as const),
  stiff: (part) =>
    part.values.contact === 0
      ? contacts(part)
          .filter((contact) => contact.closed)
          .map(({ common, thrown }) => [common, thrown] as const)
      : [],
};
