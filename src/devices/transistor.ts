import { REFERENCE_KELVIN, thermalVoltage } from "./constants.ts";
import { boundedExp, boundedExpSlope } from "./exponential.ts";
import { junctionCapacitance, junctionCharge } from "./junction-capacitance.ts";
import { saturationRatio, saturationSlope } from "./material.ts";
import type { TransistorParameters } from "./transistor-parameters.ts";

/**
 * Ebers & Moll in transport form (1954), base-width modulation after Early (1952), high injection
 * after Gummel & Poon (1970), and a collector leakage generator, which in germanium is no trifle.
 *
 * All voltages and currents are those of the NPN sense: u = p·(v_b′ − v_e), w = p·(v_b′ − v_c), and the
 * caller multiplies currents by p. Volts, amperes, coulombs, kelvin.
 */
export interface TransistorState {
  collector: number;
  base: number;
  /** Derivatives by u, w and junction temperature. */
  collectorByU: number;
  collectorByW: number;
  collectorByT: number;
  baseByU: number;
  baseByW: number;
  baseByT: number;
  /** The parts of the current that noise and the naming of regions need. */
  transport: number;
  leakage: number;
  recombination: number;
}

export interface TransistorCharges {
  /** Stored between b′ and e, and its derivative by u. */
  emitter: number;
  emitterByU: number;
  /** Stored between b′ and c, and its derivative by w. */
  collector: number;
  collectorByW: number;
}

/** Largest w/VA for which the narrowing of the base is followed. */
const LARGEST_NARROWING = 0.9;

/** The equations of one transistor type, with the temperature's share kept between calls. */
export class Transistor {
  readonly parameters: TransistorParameters;
  readonly state: TransistorState = {
    collector: 0,
    base: 0,
    collectorByU: 0,
    collectorByW: 0,
    collectorByT: 0,
    baseByU: 0,
    baseByW: 0,
    baseByT: 0,
    transport: 0,
    leakage: 0,
    recombination: 0,
  };
  readonly charges: TransistorCharges = { emitter: 0, emitterByU: 0, collector: 0, collectorByW: 0 };
  #kelvin = Number.NaN;
  #vt = 0;
  #saturation = 0;
  #saturationSlope = 0;
  #gain = 0;
  #leakage = 0;
  /** Where the junctions were last looked at, and what was found: charges follow currents at the same place. */
  #u = Number.NaN;
  #w = Number.NaN;
  #ew = 0;
  #forward = 0;
  #reverse = 0;
  #forwardByU = 0;
  #reverseByW = 0;
  #root = 1;

  constructor(parameters: TransistorParameters) {
    this.parameters = parameters;
  }

  /** Saturation current at the temperature last asked for, A. */
  get saturationCurrent(): number {
    return this.#saturation;
  }

  /** Sets the junction's temperature for the calls that follow, K. */
  warm(kelvin: number): void {
    if (kelvin === this.#kelvin) return;
    const p = this.parameters;
    this.#kelvin = kelvin;
    this.#u = Number.NaN;
    this.#vt = thermalVoltage(kelvin);
    this.#saturation = p.saturationCurrent * saturationRatio(kelvin, p.material.bandGap);
    this.#saturationSlope = saturationSlope(kelvin, p.material.bandGap);
    // powers written out: this is done in every Newton step, and a general power takes long
    const ratio = kelvin / REFERENCE_KELVIN;
    this.#gain = p.forwardGain * ratio * Math.sqrt(ratio);
    this.#leakage = p.leakageCurrent * Math.exp((Math.LN2 * (kelvin - REFERENCE_KELVIN)) / p.doubling);
  }

  /** Takes the junctions to u and w at a temperature: what currents and charges have in common. */
  #bring(u: number, w: number, kelvin: number): void {
    this.warm(kelvin);
    if (u === this.#u && w === this.#w) return;
    this.#u = u;
    this.#w = w;
    const vt = this.#vt;
    const is = this.#saturation;
    const eu = boundedExp(u / vt);
    const ew = boundedExp(w / vt);
    this.#ew = ew;
    this.#forward = is * (eu - 1);
    this.#reverse = is * (ew - 1);
    this.#forwardByU = (is * boundedExpSlope(u / vt, eu)) / vt;
    this.#reverseByW = (is * boundedExpSlope(w / vt, ew)) / vt;
    this.#root = Math.sqrt(1 + (4 * Math.max(this.#forward, 0)) / this.parameters.kneeCurrent);
  }

  /** Currents and their derivatives at u, w and junction temperature, written to `state`. */
  evaluate(u: number, w: number, kelvin: number): TransistorState {
    this.#bring(u, w, kelvin);
    const p = this.parameters;
    const s = this.state;
    const vt = this.#vt;

    // the two junctions
    const ew = this.#ew;
    const forward = this.#forward;
    const reverse = this.#reverse;
    const forwardByU = this.#forwardByU;
    const reverseByW = this.#reverseByW;
    const forwardByT = this.#saturationSlope * forward - (forwardByU * u) / kelvin;
    const reverseByT = this.#saturationSlope * reverse - (reverseByW * w) / kelvin;

    // base charge: narrowing (q1) and high injection (root)
    const narrowing = Math.min(w / p.earlyVoltage, LARGEST_NARROWING);
    const q1 = 1 / (1 - narrowing);
    const q1ByW = narrowing < LARGEST_NARROWING ? (q1 * q1) / p.earlyVoltage : 0;
    const root = this.#root;
    const qb = 0.5 * q1 * (1 + root);
    const qbByForward = forward > 0 ? q1 / (p.kneeCurrent * root) : 0;
    const qbByW = 0.5 * q1ByW * (1 + root);

    // transport between emitter and collector
    const transport = (forward - reverse) / qb;
    const perForward = (1 - transport * qbByForward) / qb;
    const transportByU = perForward * forwardByU;
    const transportByW = (-reverseByW - transport * qbByW) / qb;
    const transportByT = perForward * forwardByT - reverseByT / qb;

    // collector leakage generator
    const il = this.#leakage;
    const ilByT = Math.LN2 / p.doubling;
    let leakage: number;
    let leakageByW: number;
    let leakageByT: number;
    if (w <= 0) {
      leakage = il * (1 - ew);
      leakageByW = (-il * ew) / vt;
      leakageByT = ilByT * leakage + (il * ew * w) / (vt * kelvin);
    } else {
      leakage = (-il * w) / vt;
      leakageByW = -il / vt;
      leakageByT = leakage * (ilByT - 1 / kelvin);
    }

    const bf = this.#gain;
    const br = p.reverseGain;
    const recombination = forward / bf + reverse / br;
    s.collector = transport - reverse / br + leakage;
    s.collectorByU = transportByU;
    s.collectorByW = transportByW - reverseByW / br + leakageByW;
    s.collectorByT = transportByT - reverseByT / br + leakageByT;
    s.base = recombination - leakage;
    s.baseByU = forwardByU / bf;
    s.baseByW = reverseByW / br - leakageByW;
    s.baseByT = forwardByT / bf - (1.5 * forward) / (bf * kelvin) + reverseByT / br - leakageByT;
    s.transport = transport;
    s.leakage = leakage;
    s.recombination = recombination;
    return s;
  }

  /** Stored charges and their derivatives (small-signal capacitances), written to `charges`. */
  evaluateCharges(u: number, w: number, kelvin: number): TransistorCharges {
    this.#bring(u, w, kelvin);
    const p = this.parameters;
    const q = this.charges;
    const forward = this.#forward;
    // Q = tau·I_F/qh with qh = (1 + root)/2; dQ/dI_F = tau/root, since I_F/qh = IK·(root − 1)/2
    const root = this.#root;
    q.emitter = (p.transitTime * forward * 2) / (1 + root) - junctionCharge(p.emitterJunction, -u);
    q.emitterByU = (p.transitTime * this.#forwardByU) / root + junctionCapacitance(p.emitterJunction, -u);
    q.collector = p.storageTime * this.#reverse - junctionCharge(p.collectorJunction, -w);
    q.collectorByW = p.storageTime * this.#reverseByW + junctionCapacitance(p.collectorJunction, -w);
    return q;
  }

  /** Junction voltage scale at the temperature last used, V. */
  get thermalVoltage(): number {
    return this.#vt;
  }
}
