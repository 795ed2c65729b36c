/** The demonstration circuits that the page has with it; the first is what it opens with. */

import oscillator from "../../netlists/bias-oscillator.netlist";
import trap from "../../netlists/bias-trap.netlist";
import emitter from "../../netlists/common-emitter.netlist";
import pair from "../../netlists/direct-coupled-pair.netlist";
import follower from "../../netlists/emitter-follower.netlist";
import motor from "../../netlists/motor-regulator.netlist";
import splitter from "../../netlists/phase-splitter-transformer.netlist";
import recorder from "../../netlists/recorder.netlist";
import thermistor from "../../netlists/thermistor-bias.netlist";
import treble from "../../netlists/treble-boost.netlist";
import twin from "../../netlists/twin-t.netlist";

/** Texts by file name. */
export const DEMOS: Readonly<Record<string, string>> = {
  "recorder.netlist": recorder,
  "common-emitter.netlist": emitter,
  "emitter-follower.netlist": follower,
  "direct-coupled-pair.netlist": pair,
  "phase-splitter-transformer.netlist": splitter,
  "thermistor-bias.netlist": thermistor,
  "treble-boost.netlist": treble,
  "twin-t.netlist": twin,
  "bias-trap.netlist": trap,
  "bias-oscillator.netlist": oscillator,
  "motor-regulator.netlist": motor,
};

export const FIRST_DEMO = "recorder.netlist";
