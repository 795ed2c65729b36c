import type { Part } from "../circuit/circuit.ts";
import { branch, type Contradiction, type Device, type PartKind, value } from "./kind.ts";

/** One revolution a minute, rad/s. */
export const RPM = (2 * Math.PI) / 60;

/**
 * Speed below which the motor is caught by its friction, rad/s (about 1 rpm): there the friction falls to
 * what the current's torque is, so that nothing jumps and nothing turns backwards.
 */
const CAUGHT = 0.1;

/** K in V·s/rad, which is also N·m/A. */
export const motorConstant = (part: Part): number => value(part, "emf") / RPM;

/** What holds the motor back while it turns, N·m. */
export const heldBack = (part: Part): number => value(part, "drag") + value(part, "load");

/**
 * ρ of the friction, N·m·s/rad: M over the speed at which it is caught, and a trace of what the armature
 * damps by itself, so that ω is determined with hardly any friction too.
 */
const grip = (part: Part): number =>
  heldBack(part) / CAUGHT + (1e-3 * motorConstant(part) ** 2) / value(part, "resistance");

/** Whether a motor with this current (A, into plus) and speed (rad/s) is held by its friction. */
export function isStalled(part: Part, amps: number, speed: number): boolean {
  return Math.abs(motorConstant(part) * amps + grip(part) * speed) < heldBack(part);
}

// locals: plus, minus, current, speed
const SPEED = 3;
const CURRENT = 2;
const SIZE = 4;
const at = (row: number, column: number) => row * SIZE + column;

/**
 * The torque: J·dω/dt − K·i + friction = 0, friction = K·i + ρ·ω held between −M and M, M = drag + load.
 * Inside, the row says ω = 0: friction is whatever it must be. Outside it is M against the rotation.
 */
class Torque implements Device {
  /** Straight but for where it comes to stand or to turn. */
  readonly bends = [
    [CURRENT, -1],
    [SPEED, -1],
  ] as const;
  readonly size = SIZE;
  readonly pattern = new Uint8Array(SIZE * SIZE);
  readonly chargePattern = new Uint8Array(SIZE * SIZE);
  /** What it remembers is whether it turned last, and which way: −1, 0 or 1. */
  readonly junctions = 1;
  readonly #constant: number;
  readonly #friction: number;
  readonly #grip: number;
  readonly #inertia: number;

  constructor(part: Part) {
    this.#constant = motorConstant(part);
    this.#friction = heldBack(part);
    this.#grip = grip(part);
    this.#inertia = value(part, "inertia");
    this.pattern[at(SPEED, CURRENT)] = 1;
    this.pattern[at(SPEED, SPEED)] = 1;
    this.chargePattern[at(SPEED, SPEED)] = 1;
  }

  #turning(x: Float64Array): -1 | 0 | 1 {
    const pull = this.#constant * x[CURRENT]! + this.#grip * x[SPEED]!;
    if (Math.abs(pull) < this.#friction) return 0;
    return pull < 0 ? -1 : 1;
  }

  /** Newton may not go from one direction to the other without having stood still: it would go round in circles. */
  evaluate(x: Float64Array, { current, slope }: Parameters<Device["evaluate"]>[1], memory?: Float64Array) {
    const wanted = this.#turning(x);
    const turning = memory !== undefined && wanted * memory[0]! < 0 ? 0 : wanted;
    if (memory !== undefined) memory[0] = turning;
    const stands = turning === 0;
    current.fill(0);
    slope.fill(0);
    const torque = this.#constant * x[CURRENT]!;
    current[SPEED] = stands ? this.#grip * x[SPEED]! : turning * this.#friction - torque;
    slope[at(SPEED, CURRENT)] = stands ? 0 : -this.#constant;
    slope[at(SPEED, SPEED)] = stands ? this.#grip : 0;
    return turning === wanted;
  }

  remember(x: Float64Array, memory: Float64Array): void {
    memory[0] = this.#turning(x);
  }

  charges(x: Float64Array, { current, slope }: Parameters<Device["evaluate"]>[1]): void {
    current.fill(0);
    slope.fill(0);
    current[SPEED] = this.#inertia * x[SPEED]!;
    slope[at(SPEED, SPEED)] = this.#inertia;
  }
}

function missing(part: Part): Contradiction[] {
  if (part.values.emf !== undefined) return [];
  return [
    {
      message: `${part.name} has no back EMF`,
      hint: `add "emf 2.1 mV/rpm": volts at its terminals over the speed, turned without current`,
    },
  ];
}

/** v = R·i + K·ω, K·i = drag + load + J·dω/dt. */
export const motor: PartKind = {
  keyword: "motor",
  letters: "M",
  summary: "direct-current motor with a permanent magnet",
  bare: [{ key: "resistance", unit: "ohm", meaning: "resistance of the armature", plausible: [0.2, 500] }],
  words: {
    emf: {
      key: "emf",
      unit: "volt-per-rpm",
      meaning: "back EMF by speed",
      plausible: [1e-4, 0.1],
    },
    inertia: {
      key: "inertia",
      unit: "inertia",
      meaning: "moment of inertia of all that turns, at the motor's shaft",
      default: 2e-6,
      plausible: [1e-8, 1e-3],
    },
    drag: {
      key: "drag",
      unit: "torque",
      meaning: "torque of its own friction",
      zero: true,
      default: 0,
      plausible: [1e-6, 0.05],
    },
    load: {
      key: "load",
      unit: "torque",
      meaning: "torque of what it drives",
      zero: true,
      default: 0,
      plausible: [1e-6, 0.5],
    },
  },
  connection: { form: "labelled", pins: ["plus", "minus"] },
  check: missing,
  unknowns: (part) => [
    { kind: "branch", name: "current" },
    { kind: "speed", of: part.name, turns: true },
  ],
  stamp(part, into) {
    branch(into, 0, 1, CURRENT, value(part, "resistance"), "armature");
    into.g(CURRENT, SPEED, -motorConstant(part));
  },
  equations: (part) => new Torque(part),
  conducts: () => [[0, 1]],
};
