/** Linear networks against closed forms and against a dense solution with ml-matrix. */
import { Matrix, solve } from "ml-matrix";
import { describe, expect, it } from "vitest";
import {
  chartOf,
  expectNear,
  expectWithin,
  farads,
  gainOf,
  gainsOf,
  henries,
  impedanceAt,
  netIn,
  ohms,
} from "./bench.ts";

/** A linear congruential generator of numbers from 0 to 1 (Numerical Recipes' constants), so that every run sees the same networks. */
function sequence(start: number): () => number {
  let state = start;
  return () => {
    state = (1664525 * state + 1013904223) % 4294967296;
    return state / 4294967296;
  };
}

/** Of every coil of a random network, ohms: two coils without any would be a loop without resistance. */
const DCR = 10;

interface Branch {
  readonly kind: "resistor" | "capacitor" | "inductor";
  readonly value: number;
  readonly from: number;
  readonly to: number;
}

/** A connected network over nodes 0 (chassis) to n: a random tree of resistors with random branches over it. */
function randomNetwork(random: () => number, n: number, reactive: boolean): Branch[] {
  const spread = (low: number, high: number) => low * (high / low) ** random();
  const tree = Array.from({ length: n }, (_, k): Branch => {
    return { kind: "resistor", value: spread(100, 1e5), from: k + 1, to: Math.floor(random() * (k + 1)) };
  });
  const others = Array.from({ length: 2 * n }, (): Branch => {
    const from = Math.floor(random() * (n + 1));
    const to = (from + 1 + Math.floor(random() * n)) % (n + 1);
    const draw = reactive ? random() : 0;
    if (draw < 0.4) return { kind: "resistor", value: spread(100, 1e5), from, to };
    if (draw < 0.7) return { kind: "capacitor", value: spread(1e-10, 1e-6), from, to };
    return { kind: "inductor", value: spread(1e-3, 1), from, to };
  });
  return [...tree, ...others];
}

const netName = (node: number) => (node === 0 ? "chassis" : `n${node}`);

function statement({ kind, value, from, to }: Branch, k: number): string {
  const written = { resistor: ohms, capacitor: farads, inductor: henries }[kind](value);
  const letter = { resistor: "R", capacitor: "C", inductor: "L" }[kind];
  const winding = kind === "inductor" ? `dcr ${DCR} ohm ` : "";
  return `${kind} ${letter}${k + 1} ${written} ${winding}${netName(from)} to ${netName(to)}\n`;
}

/** Node voltages for an EMF of 1 V behind `source` ohms at node 1, as a real system of twice the size. */
function dense(
  branches: readonly Branch[],
  n: number,
  source: number,
  hertz: number,
): (readonly [number, number])[] {
  const omega = 2 * Math.PI * hertz;
  const system = Matrix.zeros(2 * n, 2 * n);
  const add = (row: number, column: number, re: number, im: number) => {
    if (row === 0 || column === 0) return;
    const [r, c] = [row - 1, column - 1];
    system.set(r, c, system.get(r, c) + re);
    system.set(n + r, n + c, system.get(n + r, n + c) + re);
    system.set(r, n + c, system.get(r, n + c) - im);
    system.set(n + r, c, system.get(n + r, c) + im);
  };
  for (const { kind, value, from, to } of branches) {
    const coil = DCR ** 2 + (omega * value) ** 2;
    const re = kind === "resistor" ? 1 / value : kind === "inductor" ? DCR / coil : 0;
    const im = kind === "capacitor" ? omega * value : kind === "inductor" ? (-omega * value) / coil : 0;
    add(from, from, re, im);
    add(to, to, re, im);
    add(from, to, -re, -im);
    add(to, from, -re, -im);
  }
  add(1, 1, 1 / source, 0);
  const drive = Matrix.zeros(2 * n, 1);
  drive.set(0, 0, 1 / source);
  const x = solve(system, drive);
  return Array.from({ length: n }, (_, k) => [x.get(k, 0), x.get(n + k, 0)] as const);
}

describe("random networks", () => {
  it("of resistors have the node voltages of a dense solution, ten networks of 3 to 12 nodes", () => {
    // yardstick: LU of ml-matrix on the nodal equations
    const random = sequence(7);
    for (let n = 3; n <= 12; n++) {
      const branches = randomNetwork(random, n, false);
      const text = `battery B1 1 V internal 470 ohm plus n1 minus chassis\n${branches.map(statement).join("")}`;
      const chart = chartOf(text);
      dense(branches, n, 470, 0).forEach(([volts], k) => {
        expectWithin(netIn(chart, `n${k + 1}`), volts, 1e-11);
      });
    }
  });

  it("of resistors, capacitors and coils have the transfer functions of a dense solution from 20 Hz to 200 kHz", () => {
    const random = sequence(11);
    for (let n = 3; n <= 10; n++) {
      const branches = randomNetwork(random, n, true);
      const text = `generator G1 1 mV source 470 ohm n1 to chassis
${branches.map(statement).join("")}path far from G1 to n${n}\n`;
      const hertz = [20, 315, 1000, 6300, 20e3, 200e3];
      gainsOf(text, hertz).forEach(({ re, im }, k) => {
        const [expectedRe, expectedIm] = dense(branches, n, 470, hertz[k]!)[n - 1]!;
        expectWithin(re, expectedRe, 1e-9);
        expectWithin(im, expectedIm, 1e-9);
      });
    }
  });

  it("are reciprocal: a volt at one end moves the current at the other as much as the other way round", () => {
    // Rayleigh's reciprocity theorem, any textbook of circuit theory
    const random = sequence(13);
    for (let n = 4; n <= 8; n++) {
      const parts = randomNetwork(random, n, true).map(statement).join("");
      const transfer = (from: number, to: number) =>
        gainOf(
          `${parts}generator G1 1 mV source 1 kohm n${from} to chassis
resistor R99 1 kohm n${to} to chassis
path across from G1 to R99 current\n`,
          1234,
        );
      const there = transfer(1, n);
      const back = transfer(n, 1);
      expectWithin(there.re, back.re, 1e-12);
      expectWithin(there.im, back.im, 1e-12);
    }
  });
});

describe("networks of equal resistors", () => {
  const across = (resistors: readonly (readonly [string, string])[], from: string, to: string) =>
    impedanceAt(
      `generator G1 1 mV ${from} to ${to}\nwire ${to} to chassis\n${resistors
        .map(([a, b], k) => `resistor R${k + 1} 1 kohm ${a} to ${b}\n`)
        .join("")}`,
      1000,
    ).re / 1000;

  const corners = [0, 1, 2, 3, 4, 5, 6, 7];
  const cube = corners.flatMap((corner) =>
    [1, 2, 4].filter((bit) => (corner & bit) === 0).map((bit) => [`q${corner}`, `q${corner | bit}`] as const),
  );

  it("on the edges of a cube have 5/6 between opposite corners, 3/4 across a face, 7/12 along an edge", () => {
    // textbook classic, no source
    expectNear(across(cube, "q0", "q7"), 5 / 6, 1e-12);
    expectNear(across(cube, "q0", "q3"), 3 / 4, 1e-12);
    expectNear(across(cube, "q0", "q1"), 7 / 12, 1e-12);
  });

  it("in a ladder have the ratio of Fibonacci numbers: 610/377 after seven sections, 1.618 in the end", () => {
    // closed form: n sections of series and shunt R have F(2n + 1)/F(2n), Fibonacci's numbers
    const sections = (n: number) =>
      Array.from({ length: n }, (_, k) => [
        [`a${k}`, `a${k + 1}`] as const,
        [`a${k + 1}`, "chassis"] as const,
      ]).flat();
    expectNear(across(sections(7), "a0", "chassis"), 610 / 377, 1e-12);
    expectNear(across(sections(30), "a0", "chassis"), (1 + Math.sqrt(5)) / 2, 1e-12);
  });

  it("each joined to each, n of them, have 2/n between any two", () => {
    // closed form of the complete graph
    const n = 7;
    const all = Array.from({ length: n }, (_, i) =>
      Array.from({ length: i }, (_, j) => [`k${i}`, `k${j}`] as const),
    ).flat();
    expectNear(across(all, "k2", "k5"), 2 / n, 1e-12);
  });

  it("in an R-2R ladder halve the voltage at every step", () => {
    // closed form of the R-2R ladder
    const steps = [0, 1, 2, 3, 4, 5];
    const text = `battery B1 8 V plus d0 minus chassis
${steps.map((k) => `resistor R${k}1 1 kohm d${k} to d${k + 1}\nresistor R${k}2 2 kohm d${k + 1} to chassis\n`).join("")}resistor R9 2 kohm d6 to chassis\n`;
    // each node sees 2R ∥ 2R = R to chassis
    const chart = chartOf(text);
    steps.forEach((k) => {
      expectNear(netIn(chart, `d${k + 1}`), 8 / 2 ** (k + 1), 1e-12);
    });
  });
});

describe("bridges, stars and triangles", () => {
  it("a Wheatstone bridge in balance shows nothing between its middles, whatever lies there", () => {
    // Wheatstone 1843; any textbook
    const bridge = (r: string) => `battery B1 6 V plus top minus chassis
resistor R1 1 kohm top to left
resistor R2 2.2 kohm left to chassis
resistor R3 470 ohm top to right
resistor R4 ${r} right to chassis
meter M1 650R full 100 µA plus left minus right
`;
    expectWithin(chartOf(bridge("1034 ohm")).parts.M1!.amps, 0, 1e-15);
    expect(Math.abs(chartOf(bridge("1 kohm")).parts.M1!.amps)).toBeGreaterThan(1e-5);
  });

  it("a star of R1·R2 + R2·R3 + R3·R1 over the opposite resistor is the triangle of it", () => {
    // Kennelly 1899: R_ab = Σ/R_c
    const [ra, rb, rc] = [1e3, 2.2e3, 4.7e3];
    const sum = ra * rb + rb * rc + rc * ra;
    const around =
      "resistor R8 10k x to y\nresistor R9 3k3 z to chassis\nwire y to chassis\ngenerator G1 1 mV x to chassis\n";
    const star = impedanceAt(
      `${around}resistor R1 ${ohms(ra)} x to m\nresistor R2 ${ohms(rb)} y to m\nresistor R3 ${ohms(rc)} z to m\n`,
      50,
    );
    const triangle = impedanceAt(
      `${around}resistor R1 ${ohms(sum / rc)} x to y\nresistor R2 ${ohms(sum / ra)} y to z\nresistor R3 ${ohms(sum / rb)} x to z\n`,
      50,
    );
    expectNear(triangle.re, star.re, 1e-12);
  });

  it("Maxwell's bridge is balanced for L = R2·R3·C at any frequency", () => {
    // Maxwell 1873: coil L, R against R1 ∥ C; R = R2·R3/R1
    const [r1, r2, r3, c] = [10e3, 1e3, 2e3, 47e-9];
    const text = `generator G1 1 V top to chassis
resistor R2 ${ohms(r2)} top to left
inductor L1 ${henries(r2 * r3 * c)} dcr ${ohms((r2 * r3) / r1)} left to chassis
resistor R1 ${ohms(r1)} top to right
capacitor C1 ${farads(c)} top to right
resistor R3 ${ohms(r3)} right to chassis
path bridge from G1 to left minus right
`;
    for (const { magnitude } of gainsOf(text, [50, 1000, 20e3])) expect(magnitude).toBeLessThan(1e-12);
  });
});

describe("ladders of coils and capacitors", () => {
  it("of constant k delay by √(LC) a section and match at √(L/C) far below cut-off", () => {
    // Bird, Electrical Circuit Theory and Technology, ch. 42 and 44: phase per section β = 2·asin(ω√(LC)/2)
    const [l, c, n] = [10e-3, 27.7778e-9, 12];
    const r = Math.sqrt(l / c);
    const sections = Array.from(
      { length: n },
      (_, k) => `inductor L${k + 1} ${henries(l / 2)} p${2 * k} to p${2 * k + 1}
capacitor C${k + 1} ${farads(c)} p${2 * k + 1} to chassis
inductor L${k + 51} ${henries(l / 2)} p${2 * k + 1} to p${2 * k + 2}
`,
    ).join("");
    const hertz = 1000;
    const step = 2 * Math.asin(Math.PI * hertz * Math.sqrt(l * c));
    // image impedance of the T section at this frequency
    const image = r * Math.sqrt(1 - (Math.PI * hertz * Math.sqrt(l * c)) ** 2);
    const text = `generator G1 1 mV p0 to chassis\n${sections}resistor R1 ${ohms(image)} p${2 * n} to chassis
path line from G1 to p${2 * n}\n`;
    const { magnitude, re, im } = gainOf(text, hertz);
    expectNear(magnitude, 1, 1e-9);
    expectWithin(re, Math.cos(n * step), 1e-9);
    expectWithin(im, -Math.sin(n * step), 1e-9);
  });

  it("a series resonance passes everything at 1/(2π√(LC)) and is √2 down at f·(√(1 + 1/4Q²) ± 1/2Q)", () => {
    // closed form of the series resonant circuit, any textbook
    const [l, c, r] = [0.1, 100e-9, 200];
    const f = 1 / (2 * Math.PI * Math.sqrt(l * c));
    const q = Math.sqrt(l / c) / r;
    const text = `generator G1 1 mV a to chassis
inductor L1 ${henries(l)} a to b
capacitor C1 ${farads(c)} b to out
resistor R1 ${ohms(r)} out to chassis
path series from G1 to out
`;
    expectNear(gainOf(text, f).re, 1, 1e-9);
    for (const side of [-1, 1]) {
      const edge = f * (Math.sqrt(1 + 1 / (4 * q * q)) + side / (2 * q));
      expectNear(gainOf(text, edge).magnitude, Math.SQRT1_2, 1e-9);
    }
  });

  it("two coupled tanks at critical coupling, k = 1/Q, peak once, and beyond it twice, at f/√(1 ± k)", () => {
    // Terman, Radio Engineers' Handbook (from memory): synchronously tuned pair; humps of a lossless pair
    // at f/√(1 ± k)
    const [l, c, q] = [1e-3, 1e-9, 100];
    const f = 1 / (2 * Math.PI * Math.sqrt(l * c));
    const text = (k: number) => `generator G1 1 V source 10 Mohm a to chassis
transformer TR1 magnetising ${henries(l)} on first coupling ${k}
    winding first 100 turns dcr ${ohms((2 * Math.PI * f * l) / q)} a to chassis
    winding second 100 turns dcr ${ohms((2 * Math.PI * f * l) / q)} b to chassis
capacitor C1 ${farads(c)} a to chassis
capacitor C2 ${farads(c)} b to chassis
path pair from G1 to b
`;
    const tight = 0.1;
    const at = (k: number, hertz: number) => gainOf(text(k), hertz).magnitude;
    expect(at(tight, f)).toBeLessThan(0.5 * at(tight, f / Math.sqrt(1 + tight)));
    expect(at(tight, f)).toBeLessThan(0.5 * at(tight, f / Math.sqrt(1 - tight)));
    // at the humps the voltage reaches what critical coupling gives in the middle
    expectNear(at(tight, f / Math.sqrt(1 + tight)), at(1 / q, f), 0.12);
    expect(at(1 / q, f * 1.01)).toBeLessThan(at(1 / q, f));
    expect(at(1 / q, f * 0.99)).toBeLessThan(at(1 / q, f));
  });
});

// a microhm of winding: without any, the generator would be short-circuited at direct current
describe("transformers and tapped windings", () => {
  it("an ideal transformer of 3 to 1 shows nine times its load and gives a third of the voltage", () => {
    // any textbook; 100 kH of magnetising inductance leave 1e-6
    const text = `generator G1 1 mV p to chassis
transformer TR1 magnetising 100 kH on primary
    winding primary 1200 turns dcr 1 µohm p to chassis
    winding secondary 400 turns s to chassis
resistor R1 8 ohm s to chassis
`;
    expectNear(impedanceAt(text, 1000).re, 72, 1e-6);
    expectNear(gainOf(`${text}path turns from G1 to s\n`, 1000).re, 1 / 3, 1e-7);
  });

  it("a centre tap sees a quarter of the whole winding's impedance", () => {
    // common practice, no source: impedance goes with the square of the turns
    const text = `generator G1 1 mV ct to chassis
transformer TR1 magnetising 100 kH on primary
    winding primary 1200 turns dcr 1 µohm p to ct to chassis
    winding secondary 300 turns s to chassis
resistor R1 8 ohm s to chassis
`;
    expectNear(impedanceAt(text, 1000).re, 8 * 4, 1e-6);
  });

  it("leaks (1 − k²)·L with its secondary shorted", () => {
    // any textbook: L_sc = L·(1 − k²)
    const [l, k] = [2.5, 0.998];
    const text = `generator G1 1 mV p to chassis
transformer TR1 magnetising ${l} H on primary coupling ${k}
    winding primary 1200 turns dcr 1 µohm p to chassis
    winding secondary 400 turns dcr 1 µohm chassis to s
wire s to chassis
`;
    expectNear(impedanceAt(text, 1000).im, 2 * Math.PI * 1000 * l * (1 - k * k), 1e-9);
  });

  it("two coils in series aiding have L1 + L2 + 2M, opposing L1 + L2 − 2M", () => {
    // any textbook; 1 mH and 4 mH with k 0.3: M 0.6 mH
    const text = (ends: string) => `generator G1 1 mV a to chassis
transformer TR1 magnetising 1 mH on first coupling 0.3
    winding first 100 turns dcr 1 µohm a to m
    winding second 200 turns ${ends}
`;
    const omega = 2 * Math.PI * 1000;
    expectNear(impedanceAt(text("m to chassis"), 1000).im, omega * 6.2e-3, 1e-9);
    expectNear(impedanceAt(text("chassis to m"), 1000).im, omega * 3.8e-3, 1e-9);
  });
});

describe("potentiometers", () => {
  it.each([
    ["linear", 0.5, 0.5],
    ["log", 0.5, 0.1],
    ["antilog", 0.5, 0.9],
    ["log", 0.25, 0.025],
    ["linear", 0.2, 0.2],
  ])("with %s track turned to %f have %f of it before the wiper", (law, turn, share) => {
    // common practice, no source: a logarithmic volume control has a tenth of its track at half a turn;
    // (81^¼ − 1)/80 = 0.025
    const text = `battery B1 1 V plus chassis minus top
potentiometer P1 10k ${law} setting ${turn * 100}% chassis to wiper to top
`;
    expectNear(netIn(chartOf(text), "wiper"), -share, 1e-9);
  });
});
