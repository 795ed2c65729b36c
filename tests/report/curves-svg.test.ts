import { XMLValidator } from "fast-xml-parser";
import { describe, expect, test } from "vitest";
import { typesLike } from "../../src/bench/alike.ts";
import { typeCurves } from "../../src/bench/curves.ts";
import { libraryTypes } from "../../src/language/index.ts";
import { alikeTable } from "../../src/report/alike-table.ts";
import { curvesSvg } from "../../src/report/curves-svg.ts";
import { curvesTable } from "../../src/report/curves-table.ts";
import { expectGolden } from "./golden.ts";

const library = libraryTypes();
const transistors = Object.values(library).filter(({ device }) => device !== "diode");
const invented = ["LN", "GP", "DR", "OP", "HF"].map((name) => library[name]!);

describe("characteristics as a drawing", () => {
  test("A small transistor, as it is to look.", () => {
    expectGolden("curves-gp.svg", curvesSvg(typeCurves(library.GP!)!));
  });

  test("An output transistor, warm, up to 300 mA, as it is to look.", () => {
    expectGolden("curves-op-warm.svg", curvesSvg(typeCurves(library.OP!, { celsius: 45, amps: 0.3 })!));
  });

  test("It is sound markup without a number that is none, for every type of the library.", () => {
    for (const type of transistors) {
      const svg = curvesSvg(typeCurves(type)!);
      expect(XMLValidator.validate(svg), type.name).toBe(true);
      expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    }
  });

  test("All words lie on the sheet, for every type of the library.", () => {
    for (const type of transistors) {
      const svg = curvesSvg(typeCurves(type)!);
      const [, width, height] = /viewBox="0 0 (\d+) (\d+)"/.exec(svg)!.map(Number);
      for (const [, x, y] of svg.matchAll(/<text x="([-\d.]+)" y="([-\d.]+)"/g)) {
        expect(Number(x)).toBeGreaterThanOrEqual(0);
        expect(Number(x)).toBeLessThan(width! - 40);
        expect(Number(y)).toBeGreaterThan(0);
        expect(Number(y)).toBeLessThanOrEqual(height!);
      }
    }
  });

  test("It draws with the ink alone where the base is open and nothing else.", () => {
    const svg = curvesSvg(typeCurves(library.OP!, { amps: 1e-5 })!);
    expect(XMLValidator.validate(svg)).toBe(true);
    expect(svg).toContain("base open");
    expect(svg).not.toMatch(/NaN|Infinity|undefined/);
  });

  test("A hostile name is text and nothing else.", () => {
    const hostile = { ...library.GP!, name: "</title><script>\"'&]]>\u0000" };
    const svg = curvesSvg(typeCurves(hostile)!);
    expect(XMLValidator.validate(svg)).toBe(true);
    expect(svg).not.toContain("<script");
  });
});

describe("characteristics and likeness as tables", () => {
  const wide = { width: 100, color: false };

  test("Characteristics, as they are to look.", () => {
    expectGolden("curves-gp.txt", curvesTable(typeCurves(library.GP!)!, wide));
  });

  test("Likeness, as it is to look.", () => {
    expectGolden("alike-gp.txt", alikeTable(typesLike(library.GP!, invented, 1e-3), wide));
  });

  test("A narrow terminal gets fewer columns, never a longer line.", () => {
    for (const width of [30, 40, 50, 60, 80]) {
      const tables = [
        curvesTable(typeCurves(library.GP!)!, { width, color: false }),
        alikeTable(typesLike(library.OC71!, transistors, 1e-3), { width, color: false }),
      ];
      const longest = Math.max(...tables.flatMap((table) => table.split("\n").map((line) => line.length)));
      expect(longest).toBeLessThanOrEqual(Math.max(width, 44));
    }
  });
});
