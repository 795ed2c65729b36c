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
    this.#vt = thermalVoltage(kelvin);
    this.#saturation = p.saturationCurrent * saturationRatio(kelvin, p.material.bandGap);
    this.#saturationSlope = saturationSlope(kelvin, p.material.bandGap);
    // powers written out: this is done in every Newton step, and a general power takes long
    const ratio = kelvin / REFERENCE_KELVIN;
    this.#gain = p.forwardGain * ratio * Math.sqrt(ratio);
    this.#leakage = p.leakageCurrent * Math.exp((Math.LN2 * (kelvin - REFERENCE_KELVIN)) / p.doubling);
  }

  /** Currents and their derivatives at u, w and junction temperature, written to `state`. */
  evaluate(u: number, w: number, kelvin: number): TransistorState {
    this.warm(kelvin);
    const p = this.parameters;
    const s = this.state;
    const vt = this.#vt;
    const is = this.#saturation;

    // the two junctions
    const eu = boundedExp(u / vt);
    const ew = boundedExp(w / vt);
    const euSlope = boundedExpSlope(u / vt, eu);
    const ewSlope = boundedExpSlope(w / vt, ew);
    const forward = is * (eu - 1);
    const reverse = is * (ew - 1);
    const forwardByU = (is * euSlope) / vt;
    const reverseByW = (is * ewSlope) / vt;
    const forwardByT = this.#saturationSlope * forward - (forwardByU * u) / kelvin;
    const reverseByT = this.#saturationSlope * reverse - (reverseByW * w) / kelvin;

    // base charge: narrowing (q1) and high injection (root)
    const narrowing = Math.min(w / p.earlyVoltage, LARGEST_NARROWING);
    const q1 = 1 / (1 - narrowing);
    const q1ByW = narrowing < LARGEST_NARROWING ? (q1 * q1) / p.earlyVoltage : 0;
    const injected = Math.max(forward, 0);
    const root = Math.sqrt(1 + (4 * injected) / p.kneeCurrent);
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
    this.warm(kelvin);
    const p = this.parameters;
    const q = this.charges;
    const vt = this.#vt;
    const is = this.#saturation;
    const eu = boundedExp(u / vt);
    const ew = boundedExp(w / vt);
    const forward = is * (eu - 1);
    const forwardByU = (is * boundedExpSlope(u / vt, eu)) / vt;
    const reverse = is * (ew - 1);
    const reverseByW = (is * boundedExpSlope(w / vt, ew)) / vt;

    // Q = tau·I_F/qh with qh = (1 + root)/2; dQ/dI_F = tau/root, since I_F/qh = IK·(root − 1)/2
    const root = Math.sqrt(1 + (4 * Math.max(forward, 0)) / p.kneeCurrent);
    q.emitter = (p.transitTime * forward * 2) / (1 + root) - junctionCharge(p.emitterJunction, -u);
    q.emitterByU = (p.transitTime * forwardByU) / root + junctionCapacitance(p.emitterJunction, -u);
    q.collector = p.storageTime * reverse - junctionCharge(p.collectorJunction, -w);
    q.collectorByW = p.storageTime * reverseByW + junctionCapacitance(p.collectorJunction, -w);
    return q;
  }

  /** Junction voltage scale at the temperature last used, V. */
  get thermalVoltage(): number {
    return this.#vt;
  }
}
