import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Circuit } from "../../src/circuit/circuit.ts";
import { formatNetlist, readNetlist, readQuantity, writeValue } from "../../src/language/index.ts";
import { circuitOf, SAMPLE } from "./reading.ts";

/** The circuit without the places in the text. */
const meaning = (circuit: Circuit): unknown =>
  JSON.parse(JSON.stringify(circuit, (key, value) => (key === "place" ? undefined : value)));

/** Which pins are joined, whatever the nets are called. */
const partition = (circuit: Circuit): string[] =>
  circuit.nets.map((net) => [...net.points].sort().join(" ")).sort();

/** The sample's statements, each with the lines that continue it. */
const STATEMENTS = SAMPLE.split(/\n(?!\s)/).filter((statement) => statement.trim() !== "");

describe("A value", () => {
  const number = fc
    .tuple(fc.integer({ min: 1, max: 999_999_999 }), fc.integer({ min: -18, max: 6 }))
    .map(([digits, power]) => Number(`${digits}e${power}`));

  it("that is written reads back as the same number", () => {
    fc.assert(
      fc.property(
        number,
        fc.constantFrom("ohm", "henry", "volt", "hertz", "second", "number"),
        (value, unit) => {
          expect(readQuantity(writeValue(value, unit), unit)).toBe(value);
          expect(readQuantity(writeValue(-value, unit), unit)).toBe(-value);
        },
      ),
    );
  });

  it("in per cent reads back as the same share", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 10_000 }), (basis) => {
        const share = Number(`${basis}e-4`);
        expect(readQuantity(writeValue(share, "percent"), "percent")).toBe(share);
      }),
    );
  });

  it("in letter code is the number with the prefix's power of ten", () => {
    const mark = fc.constantFrom<[string, number]>(["p", -12], ["n", -9], ["µ", -6], ["u", -6], ["m", -3]);
    fc.assert(
      fc.property(fc.nat(999), fc.nat(99), mark, (whole, fraction, [letter, power]) => {
        expect(readQuantity(`${whole}${letter}${fraction}`, "farad")).toBe(
          Number(`${whole}.${fraction}e${power}`),
        );
      }),
    );
  });

  it("of any text is a finite number or a sentence", () => {
    const text = fc.string({ unit: fc.constantFrom(..."0123456789.,+-eEkKMmµunpRΩFHVAs% °C/W±") });
    fc.assert(
      fc.property(
        text,
        fc.constantFrom("ohm", "farad", "celsius", "percent", "kelvin-per-watt"),
        (written, unit) => {
          const found = readQuantity(written, unit);
          if (typeof found === "number") expect(Number.isFinite(found)).toBe(true);
          else expect(found.message.length).toBeGreaterThan(10);
        },
      ),
      { numRuns: 2000 },
    );
  });
});

/** The sample with its blanks stretched, comments added and empty lines put in. */
const untidy = fc
  .array(fc.constantFrom(" ", "  ", "\t", " \t ", "     "), { minLength: 20, maxLength: 60 })
  .chain((blanks) =>
    fc
      .array(fc.constantFrom("", "", "", "  # a comment", "\n", "\n   # alone", "\n# alone\n"), {
        minLength: 7,
        maxLength: 30,
      })
      .map((ends) => {
        let k = 0;
        const stretched = (line: string) =>
          line.includes('"') ? line : line.replace(/(?<=\S) +(?=\S)/g, () => blanks[k++ % blanks.length]!);
        return SAMPLE.split("\n")
          .map((line, n) => stretched(line.replace(/ *#.*/, "")) + ends[n % ends.length])
          .join("\n");
      }),
  );

describe("Formatting", () => {
  it("keeps the meaning of a netlist, and does nothing the second time", () => {
    const intended = meaning(circuitOf(SAMPLE));
    fc.assert(
      fc.property(untidy, (text) => {
        expect(meaning(circuitOf(text))).toEqual(intended);
        const once = formatNetlist(text);
        if (typeof once !== "string") throw new Error("refused");
        expect(meaning(circuitOf(once))).toEqual(intended);
        expect(formatNetlist(once)).toBe(once);
        expect(once.match(/#/g)?.length).toBe(text.match(/#/g)?.length);
      }),
    );
  });
});

describe("A circuit does not depend on", () => {
  const intended = circuitOf(SAMPLE);

  it("the order of its statements", () => {
    const parts = (circuit: Circuit) =>
      [...circuit.parts]
        .sort((a, b) => (a.name < b.name ? -1 : 1))
        .map(({ pins: _p, place: _l, ...part }) => part);
    fc.assert(
      fc.property(fc.shuffledSubarray(STATEMENTS, { minLength: STATEMENTS.length }), (statements) => {
        const circuit = circuitOf(statements.join("\n"));
        expect(partition(circuit)).toEqual(partition(intended));
        expect(parts(circuit)).toEqual(parts(intended));
      }),
    );
  });

  it("the names of its parts", () => {
    const names = intended.parts.map((part) => part.name);
    fc.assert(
      fc.property(fc.shuffledSubarray(names, { minLength: names.length }), (others) => {
        const renamed = new Map(names.map((name, k) => [name, `${others[k]}x`]));
        const rename = (text: string) => text.replace(/\b[A-Z]+\d\b/g, (name) => renamed.get(name) ?? name);
        const circuit = circuitOf(rename(SAMPLE));
        const expected = intended.nets.map((net) => net.points.map(rename).sort().join(" ")).sort();
        expect(partition(circuit)).toEqual(expected);
        expect(circuit.parts.map((part) => part.values)).toEqual(intended.parts.map((part) => part.values));
      }),
    );
  });
});

const WORDS = [...new Set(SAMPLE.split(/\s+/))].filter((word) => word !== "");
const JUNK = [..."abcRT019.,-+%±µ\"#='()[]{}/\\\t\n \u0000\u0001\ufffd\ud83dé😀Ω…"];

interface Slip {
  readonly kind: "delete" | "insert" | "word" | "line" | "cut" | "join";
  readonly at: number;
  readonly choice: number;
}

const slip: fc.Arbitrary<Slip> = fc.record({
  kind: fc.constantFrom("delete", "insert", "word", "line", "cut", "join"),
  at: fc.nat(100_000),
  choice: fc.nat(100_000),
});

function slipped(text: string, { kind, at, choice }: Slip): string {
  const k = at % (text.length + 1);
  const words = text.split(/(\s+)/);
  const word = at % words.length;
  switch (kind) {
    case "delete":
      return text.slice(0, k) + text.slice(k + 1 + (choice % 3));
    case "insert":
      return text.slice(0, k) + JUNK[choice % JUNK.length] + text.slice(k);
    case "word":
      return words.with(word, choice % 4 === 0 ? "" : (WORDS[choice % WORDS.length] ?? "")).join("");
    case "line":
      return `${text}\n${text.split("\n")[choice % text.split("\n").length]}`;
    case "cut":
      return choice % 20 === 0 ? text.slice(0, k) : text.replace(/\n {4}/, "\n");
    case "join":
      return text.replace(/\n/, choice % 2 === 0 ? " " : "\n  ");
  }
}

/** Some of the sample's statements with slips of the pen. */
const mutant = fc
  .tuple(
    fc.nat(STATEMENTS.length),
    fc.integer({ min: 2, max: 9 }),
    fc.array(slip, { minLength: 1, maxLength: 6 }),
  )
  .map(([start, count, slips]) => {
    const all = [...STATEMENTS, ...STATEMENTS];
    return slips.reduce(slipped, all.slice(start, start + count).join("\n"));
  });

/** Why a diagnostic does not point into its file, if so. */
function misplaced(text: string): string | undefined {
  const { circuit, diagnostics, sources } = readNetlist(text, { file: "m" });
  if (circuit === undefined && diagnostics.every((d) => d.severity !== "error"))
    return "neither circuit nor error";
  for (const d of diagnostics) {
    const line = sources.get(d.file)?.split("\n")[d.line - 1];
    if (line === undefined) return `no line ${d.line}: ${d.message}`;
    if (d.column < 1 || d.length < 0 || d.column - 1 + d.length > line.length) return `outside: ${d.message}`;
    if (/undefined|NaN|\[object/.test(d.message + (d.hint ?? ""))) return d.message;
  }
  return undefined;
}

describe("Fifty thousand netlists with slips of the pen", () => {
  it("never upset the reader, and all that is said of them points into the file", () => {
    fc.assert(
      fc.property(mutant, (text) => {
        const fault = misplaced(text);
        if (fault !== undefined) throw new Error(fault);
      }),
      { numRuns: 50_000 },
    );
  }, 120_000);

  it("nor do they upset the formatter, whose work reads as the text it was given", () => {
    fc.assert(
      fc.property(mutant, (text) => {
        const once = formatNetlist(text);
        if (typeof once !== "string") return;
        expect(formatNetlist(once)).toBe(once);
        const [before, after] = [readNetlist(text), readNetlist(once)];
        expect(after.diagnostics.map((d) => d.message).sort()).toEqual(
          before.diagnostics.map((d) => d.message).sort(),
        );
        if (before.circuit && after.circuit) expect(meaning(after.circuit)).toEqual(meaning(before.circuit));
      }),
      { numRuns: 2000 },
    );
  });
});
