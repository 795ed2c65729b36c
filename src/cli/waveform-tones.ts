import type { Tone } from "../bench/waveform/conditions.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { nearestWord } from "../language/index.ts";
import { sourcesIn } from "../parts/index.ts";
import { quantity } from "./conditions.ts";
import { Refusal, readTogether } from "./refusal.ts";

/** `1kHz,20mV` or `1kHz,20mV,G1`: a sine EMF, rms. */
export function readTone(text: string, circuit: Circuit): Tone {
  const [frequency = "", level, part, ...more] = text.split(",").map((word) => word.trim());
  const example = "write a frequency and an EMF, rms: --tone 1kHz,20mV";
  if (level === undefined || more.length > 0) throw new Refusal(`--tone ${text}: not a tone`, example);
  return readTogether({
    hertz: () => {
      const hertz = quantity("tone", frequency, "hertz");
      if (hertz > 0) return hertz;
      throw new Refusal(`--tone ${text}: a tone has more than 0 Hz`, example);
    },
    volts: () => {
      const volts = quantity("tone", level, "volt");
      if (volts >= 0) return volts;
      throw new Refusal(`--tone ${text}: the EMF of a tone is not negative`, example);
    },
    part: () => sourceNamed(part, text, circuit),
  });
}

function sourceNamed(name: string | undefined, text: string, circuit: Circuit): string {
  const names = sourcesIn(circuit);
  const [only, second] = names;
  if (only === undefined)
    throw new Refusal(
      `--tone ${text}: the circuit has no generator and no head`,
      "add a line such as: generator G1 1mV in to chassis",
    );
  if (name !== undefined) {
    if (names.includes(name)) return name;
    const near = nearestWord(name, names);
    throw new Refusal(
      `--tone ${text}: there is no source ${name}`,
      near === undefined ? `the sources are ${names.join(", ")}` : `did you mean ${near}?`,
    );
  }
  const [path] = circuit.paths;
  if (second !== undefined && path === undefined)
    throw new Refusal(`--tone ${text}: the circuit has several sources`, `say which: --tone ${text},${only}`);
  return path?.from ?? only;
}
