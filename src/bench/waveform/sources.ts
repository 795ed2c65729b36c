import type { Circuit } from "../../circuit/circuit.ts";
import type { Drive } from "../../engine/time/collocation.ts";
import type { PlannedEvent, Tone } from "./conditions.ts";

interface Voice {
  /** Index into `Circuit.parts`. */
  readonly part: number;
  readonly tones: readonly Tone[];
  /** Direct EMF that an event has set, V. */
  direct: number;
  sounding: boolean;
  since: number;
}

/** The EMFs of generators and heads in time: sines, keyed on and off, and steps. */
export class Sources {
  readonly #voices: Voice[];

  /** A source whose first event switches its tones on is silent until then. */
  constructor(circuit: Circuit, tones: readonly Tone[], events: readonly PlannedEvent[]) {
    const stepped = events.flatMap(({ states }) => states.filter(({ key }) => key === "emf"));
    this.#voices = circuit.parts.flatMap(({ name, kind }, part): Voice[] => {
      const own = tones.filter((tone) => tone.part === name);
      const moves = own.length > 0 || stepped.some((state) => state.part === name);
      if (!moves || (kind !== "generator" && kind !== "head")) return [];
      const first = events.find(({ keyed }) => keyed?.part === name)?.keyed;
      return [{ part, tones: own, direct: 0, sounding: first?.on !== true, since: 0 }];
    });
  }

  readonly drive: Drive = (seconds, emf) => {
    for (const voice of this.#voices) {
      let volts = voice.direct;
      if (voice.sounding) {
        for (const { hertz, volts: rms } of voice.tones)
          volts += Math.SQRT2 * rms * Math.sin(2 * Math.PI * hertz * (seconds - voice.since));
      }
      emf[voice.part] = volts;
    }
  };

  /** Takes note of an event at its time: tones begin at their zero. */
  happen({ seconds, keyed, states }: PlannedEvent, circuit: Circuit): void {
    for (const voice of this.#voices) {
      const { name } = circuit.parts[voice.part]!;
      if (keyed?.part === name) {
        voice.sounding = keyed.on;
        voice.since = seconds;
      }
      for (const { part, key, value } of states)
        if (part === name && key === "emf" && typeof value === "number") voice.direct = value;
    }
  }
}
