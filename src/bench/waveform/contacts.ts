import type { Circuit, Part } from "../../circuit/circuit.ts";
import type { Network } from "../../engine/network.ts";
import type { TimePoint } from "../../engine/time/collocation.ts";
import { isClosed } from "../../parts/governor.ts";
import { RPM } from "../../parts/motor.ts";
import type { ContactReading, Mark } from "./results.ts";

/** Periods averaged: of all whole ones since the last event, those of the later half. */
const LATER = 0.5;

/** From one opening of the contact to the next. */
interface Period {
  readonly seconds: number;
  readonly open: number;
  /** Revolutions a minute times seconds. */
  readonly area: number;
  readonly least: number;
  readonly greatest: number;
}

/** What a governor does in a run, and the speed of its motor meanwhile. */
class ContactLog {
  readonly part: string;
  readonly motor: string;
  readonly openAtStart: boolean;
  readonly periods: Period[] = [];
  workings = 0;
  lastRpm = 0;
  readonly #unknown: number;
  #opened: number | undefined;
  #closed: number | undefined;
  #area = 0;
  #least = Infinity;
  #greatest = 0;

  constructor(part: Part, { unknowns }: Network) {
    this.part = part.name;
    this.motor = part.choices.of ?? "";
    this.openAtStart = !isClosed(part);
    this.#unknown = unknowns.speed.get(this.motor) ?? -1;
  }

  /** Start, middle and end of a step. */
  step(points: readonly TimePoint[]): void {
    const [start, middle, end] = points.slice(-3);
    if (start === undefined || middle === undefined || end === undefined) return;
    const [a, b, c] = [start, middle, end].map(({ state }) => Math.abs(state[this.#unknown] ?? 0) / RPM);
    this.#area += ((a! + 4 * b! + c!) / 6) * (end.seconds - start.seconds);
    this.#least = Math.min(this.#least, a!, c!);
    this.#greatest = Math.max(this.#greatest, a!, c!);
    this.lastRpm = c!;
  }

  /** After an event the circuit is another: what came before is not averaged with what follows. */
  restart(): void {
    this.periods.length = 0;
    this.#opened = undefined;
    this.#closed = undefined;
  }

  work({ what, seconds }: Mark): void {
    this.workings++;
    if (what.endsWith(" closes")) {
      this.#closed = seconds;
      return;
    }
    if (this.#opened !== undefined && this.#closed !== undefined)
      this.periods.push({
        seconds: seconds - this.#opened,
        open: this.#closed - this.#opened,
        area: this.#area,
        least: this.#least,
        greatest: this.#greatest,
      });
    this.#opened = seconds;
    this.#closed = undefined;
    [this.#area, this.#least, this.#greatest] = [0, Infinity, 0];
  }

  reading(circuit: Circuit): ContactReading {
    const part = circuit.parts.find(({ name }) => name === this.part)!;
    const later = this.periods.slice(Math.floor(LATER * this.periods.length));
    return {
      contact: this.part,
      motor: this.motor,
      open_at_start: this.openAtStart,
      open_at_end: !isClosed(part),
      workings: this.workings,
      last_rpm: this.lastRpm,
      ...(later.length > 0 && averaged(later)),
    };
  }
}

function averaged(periods: readonly Period[]): Pick<ContactReading, "bursts"> {
  const sum = (read: (period: Period) => number) => periods.reduce((all, period) => all + read(period), 0);
  const seconds = sum((period) => period.seconds);
  const open = sum((period) => period.open);
  return {
    bursts: {
      periods: periods.length,
      per_second: periods.length / seconds,
      open_share: open / seconds,
      open_seconds: open / periods.length,
      rpm: sum(({ area }) => area) / seconds,
      least_rpm: periods.reduce((low, { least }) => Math.min(low, least), Number.POSITIVE_INFINITY),
      greatest_rpm: periods.reduce((high, { greatest }) => Math.max(high, greatest), 0),
    },
  };
}

/** The governors of a circuit that no mode holds, watched through a run. */
export class Contacts {
  readonly #logs: readonly ContactLog[];

  constructor(network: Network) {
    this.#logs = network.circuit.parts
      .filter(({ kind, choices }) => kind === "governor" && choices.state === undefined)
      .map((part) => new ContactLog(part, network));
  }

  step(points: readonly TimePoint[]): void {
    for (const log of this.#logs) log.step(points);
  }

  /** Begins anew after an event. */
  restart(): void {
    for (const log of this.#logs) log.restart();
  }

  /** Takes note of what parts did of themselves. */
  take(marks: readonly Mark[]): void {
    for (const mark of marks) this.#logs.find(({ part }) => mark.what.startsWith(`${part} `))?.work(mark);
  }

  readings(circuit: Circuit): ContactReading[] {
    return this.#logs.map((log) => log.reading(circuit));
  }
}
