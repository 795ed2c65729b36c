import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { has, listGiven, parseArguments, valueGiven, valuesGiven } from "../../src/cli/arguments.ts";
import type { Option } from "../../src/cli/options.ts";
import { Refusal, Refusals } from "../../src/cli/refusal.ts";

const OPTIONS: readonly Option[] = [
  { name: "ambient", value: "35C", help: "" },
  { name: "set", value: "NAME=VALUE", repeatable: true, help: "" },
  { name: "output", short: "o", value: "FILE", repeatable: true, help: "" },
  { name: "json", help: "" },
];

const parse = (...words: string[]) => parseArguments(words, OPTIONS);

function refusal(...words: string[]): Refusal {
  try {
    parse(...words);
  } catch (error) {
    if (error instanceof Refusal) return error;
  }
  throw new Error("accepted");
}

describe("a command line", () => {
  it("takes the value of an option from the next word or from behind an equals sign", () => {
    expect(valueGiven(parse("--ambient", "35C"), "ambient")).toBe("35C");
    expect(valueGiven(parse("--ambient=35C"), "ambient")).toBe("35C");
  });

  it("keeps further equals signs in the value", () => {
    expect(valuesGiven(parse("--set=P1=30%", "--set", "R7=4k7"), "set")).toEqual(["P1=30%", "R7=4k7"]);
  });

  it("takes a short option's value with or without a blank", () => {
    for (const words of [["-o", "a.svg"], ["-oa.svg"], ["-o=a.svg"]]) {
      expect(valuesGiven(parse(...words), "output")).toEqual(["a.svg"]);
    }
  });

  it("accepts a value that begins with one dash, so that it may freeze", () => {
    expect(valueGiven(parse("--ambient", "-10C"), "ambient")).toBe("-10C");
  });

  it("lets options stand before, behind and between operands", () => {
    const found = parse("--json", "a.netlist", "--ambient", "5C", "-");
    expect(found.operands).toEqual(["a.netlist", "-"]);
    expect(has(found, "json")).toBe(true);
  });

  it("takes everything behind two dashes as operands", () => {
    expect(parse("--", "--json", "-o").operands).toEqual(["--json", "-o"]);
  });

  it("splits lists at commas over all repetitions", () => {
    expect(listGiven(parse("--set", "a,b", "--set=c,"), "set")).toEqual(["a", "b", "c"]);
  });

  it("answers an unknown option with the nearest one", () => {
    expect(refusal("--ambiant", "3C").hint).toContain("--ambient");
    expect(refusal("--zzz").hint).toContain("--ambient --set --output --json");
  });

  it("refuses an option whose value is missing", () => {
    for (const words of [["--ambient"], ["--ambient", "--json"], ["--ambient="], ["-o"]]) {
      expect(refusal(...words).message).toMatch(/needs a value/);
    }
  });

  it("refuses a value for an option that takes none, and a second value where one is meant", () => {
    expect(refusal("--json=yes").message).toMatch(/takes no value/);
    expect(refusal("--ambient=1C", "--ambient=2C").message).toMatch(/twice/);
  });

  it("is either parsed or refused, whatever the words", () => {
    const word = fc.oneof(
      fc.string(),
      fc.constantFrom("--set", "-o", "--json", "--", "-", "--ambient=", "-=", "--="),
    );
    fc.assert(
      fc.property(fc.array(word), (words) => {
        try {
          const { operands } = parse(...words);
          expect(operands.every((operand) => words.includes(operand))).toBe(true);
        } catch (error) {
          expect(error instanceof Refusal || error instanceof Refusals).toBe(true);
        }
      }),
    );
  });
});
