import type { PlannedEvent } from "./conditions.ts";

interface Setting {
  readonly value: number | string;
  readonly seconds: number;
}

/** A part that is set to two values at one time, or switched to the state that it is in. */
export interface Contradiction extends Setting {
  readonly part: string;
  readonly before: Setting;
}

/** What of the events cannot be, in the order of time: one thing has one state, and a battery that is on is not switched on. */
export function contradictions(events: readonly PlannedEvent[]): readonly Contradiction[] {
  const last = new Map<string, Setting>();
  const steps = events
    .toSorted((a, b) => a.seconds - b.seconds)
    .flatMap(({ seconds, states, keyed }) => [
      ...states.map((state) => ({ ...state, seconds })),
      ...(keyed ? [{ part: keyed.part, key: "tones", value: keyed.on ? "on" : "off", seconds }] : []),
    ]);
  return steps.flatMap(({ part, key, value, seconds }) => {
    const before = last.get(`${part} ${key}`);
    last.set(`${part} ${key}`, { value, seconds });
    if (before === undefined) return [];
    const again = before.value === value && (key === "power" || key === "tones");
    return again || before.seconds === seconds ? [{ part, value, seconds, before }] : [];
  });
}
