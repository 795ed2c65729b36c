import { describe, expect, it } from "vitest";
import { type WordKind, wordKind } from "../../../src/page/editor/words.ts";

/** Kinds of the words of a statement. */
const kinds = (line: string): (WordKind | undefined)[] => {
  const words = line.split(" ");
  return words.map((word, count) => wordKind(word, { keyword: words[0]!, count }));
};

describe("the words of a netlist", () => {
  it("are told apart as keyword, name, value, words that join, and the rest", () => {
    expect(kinds("resistor R1 4k7 ±5% rail to T1.b # volume")).toEqual([
      ...["keyword", "name", "value", "value", undefined, "small", undefined, "remark", undefined],
    ]);
    expect(kinds("reading play T1.c -3.2 V")).toEqual(["keyword", undefined, undefined, "value", undefined]);
  });

  it("begin with no keyword where the language has none of that name", () => {
    expect(wordKind("resistr", { keyword: "", count: 0 })).toBeUndefined();
    expect(wordKind("constructor", { keyword: "", count: 0 })).toBeUndefined();
  });
});
