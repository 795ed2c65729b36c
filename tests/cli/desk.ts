import type { Environment } from "../../src/cli/environment.ts";
import { run } from "../../src/cli/run.ts";

/** What a command did: its exit code, what it printed and what it wrote. */
export interface Done {
  readonly code: number;
  readonly out: string;
  readonly err: string;
  readonly written: Readonly<Record<string, string>>;
}

export type Files = Readonly<Record<string, string | Uint8Array>>;

const failure = (code: string) => Object.assign(new Error(code), { code });
const isFolder = (files: Files, path: string) =>
  path === "." || Object.keys(files).some((name) => name.startsWith(`${path}/`));

function read(files: Files, path: string, limit: number): Uint8Array {
  const found = files[path];
  if (found === undefined) throw failure(isFolder(files, path) ? "EISDIR" : "ENOENT");
  return (typeof found === "string" ? new TextEncoder().encode(found) : found).subarray(0, limit);
}

function namesIn(files: Files, folder: string): readonly string[] {
  const prefix = folder === "." ? "" : `${folder}/`;
  const inside = Object.keys(files).filter((name) => name.startsWith(prefix));
  return [...new Set(inside.map((name) => name.slice(prefix.length).split("/")[0] ?? ""))];
}

/** An environment on files in memory that keeps what is printed and written; `-` is standard input. */
export function deskEnvironment(files: Files, more: Partial<Environment> = {}) {
  const out: string[] = [];
  const err: string[] = [];
  const written: Record<string, string> = {};
  const environment: Environment = {
    stdout: (text) => void out.push(text),
    stderr: (text) => void err.push(text),
    readFile: (path, limit) => read(files, path, limit),
    writeFile: (path, text) => {
      if (isFolder(files, path)) throw failure("EISDIR");
      if (path.includes("/") && !isFolder(files, path.slice(0, path.lastIndexOf("/"))))
        throw failure("ENOENT");
      written[path] = text;
    },
    listFolder: (folder) => namesIn(files, folder),
    keyboard: false,
    width: 100,
    color: false,
    errorColor: false,
    ...more,
  };
  return { environment, out, err, written };
}

/** Runs one command line in this process, words parted by blanks. */
export async function preprobe(
  line: string | readonly string[],
  files: Files = {},
  more: Partial<Environment> = {},
): Promise<Done> {
  const { environment, out, err, written } = deskEnvironment(files, more);
  const words = typeof line === "string" ? line.split(" ").filter((word) => word !== "") : line;
  const code = await run(words, environment);
  return { code, out: out.join(""), err: err.join(""), written };
}

/** A stage that works in two positions of a switch, with a path in each. */
export const STAGE = `circuit "one stage"
type PN pnp germanium
    hfe 70 at 1 mA
    rth 0.4 K/mW
battery B1 9V plus chassis minus rail
switch S1 play record
    pole a rail play feed record feed
resistor R1 47k chassis to T1.b
resistor R2 220k T1.b to feed
resistor R3 1k T1.e to chassis
resistor R4 4k7 T1.c to feed
transistor T1 PN
generator G1 1mV source 600 ohm in to chassis
electrolytic C1 10µ plus in minus T1.b
electrolytic C2 10µ plus out minus T1.c
resistor R5 10k out to chassis
path playback in play from G1 to out
path recording in record from G1 to out
`;

/** A fixed base current: `cool`, the collector resistor limits the dissipation; `hot`, nothing does. */
export const RUNAWAY = `circuit "hot stage"
type PN pnp germanium
    hfe 120 at 10 mA
    leakage 300 µA at 25 °C
    limits tj 75 °C
    rth 1.5 K/mW
battery B1 18V plus chassis minus rail
switch S1 cool hot
    pole a rail hot feed
resistor R1 100k rail to T1.b
resistor R2 1k rail to feed
wire feed to T1.c
wire T1.e to chassis
transistor T1 PN
`;

/** Swings at about 100 kHz. */
export const OSCILLATOR = `circuit "Tuned collector"
type HF pnp germanium
    hfe 60 at 1 mA
    ft 10 MHz at 1 mA
battery B1 9 V plus chassis minus rail
resistor R1 18k rail to bias
resistor R2 4k7 bias to chassis
capacitor C1 100n bias to chassis
transistor T1 HF
resistor R3 1k T1.e to chassis
capacitor C2 47n T1.e to chassis
transformer TR1 magnetising 1mH on tank coupling 0.98
    winding tank 60 turns dcr 3 ohm T1.c to rail
    winding base 6 turns dcr 0.5 ohm bias to T1.b
capacitor C3 2n2 T1.c to rail
`;
