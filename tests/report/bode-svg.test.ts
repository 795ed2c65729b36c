import fc from "fast-check";
import { XMLParser, XMLValidator } from "fast-xml-parser";
import { describe, expect, test } from "vitest";
import { bodeSvg } from "../../src/report/bode-svg.ts";
import { circuit, dumb, headCurrent, playback, recording, response, sweep } from "./fixtures.ts";
import { expectGolden } from "./golden.ts";

const title = { title: circuit.title, conditions: ["modes play, record", "B1 9 V", "ambient 25 °C"] };

interface Node {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly Node[];
  readonly text: string;
}

type Raw = Record<string, unknown>;

function node(raw: Raw): Node {
  const name = Object.keys(raw).find((key) => key !== ":@")!;
  const children = name === "#text" ? [] : (raw[name] as Raw[]).map(node);
  return {
    name,
    attributes: (raw[":@"] ?? {}) as Record<string, string>,
    children,
    text: name === "#text" ? String(raw[name]) : children.map(({ text }) => text).join(""),
  };
}

const all = (root: Node): readonly Node[] => [root, ...root.children.flatMap(all)];

function parsed(svg: string): Node {
  expect(XMLValidator.validate(svg)).toBe(true);
  const parser = new XMLParser({
    preserveOrder: true,
    ignoreAttributes: false,
    attributeNamePrefix: "",
    parseTagValue: false,
    trimValues: false,
  });
  const roots = (parser.parse(svg) as Raw[]).map(node).filter(({ name }) => name === "svg");
  return roots[0]!;
}

const texts = (root: Node) =>
  all(root)
    .filter(({ name }) => name === "text")
    .map((element) => ({
      ...element,
      shown: element.children
        .filter(({ name }) => name === "#text")
        .map(({ text }) => text)
        .join(""),
      x: Number(element.attributes.x),
      y: Number(element.attributes.y),
    }));

const spaced = (text: string) => text.replaceAll("\u00a0", " ");

describe("the Bode plot as a drawing", () => {
  test("Two paths, as they are to look.", () => {
    expectGolden("bode-two-paths.svg", bodeSvg([playback, recording], title));
  });

  test("A voltage and a current, as they are to look.", () => {
    expectGolden("bode-voltage-and-current.svg", bodeSvg([playback, headCurrent], title));
  });

  test("A single frequency, as it is to look.", () => {
    const one = response({ path: "spot", gain: 10, low: 1, high: 1e6, hertz: [1000] });
    expectGolden("bode-single-frequency.svg", bodeSvg([one], title));
  });

  test("It is an image with a title and a description that says what one reads off it.", () => {
    const root = parsed(bodeSvg([playback, recording], title));
    expect(root.attributes.role).toBe("img");
    expect(root.children.find(({ name }) => name === "title")!.text).toContain(circuit.title);
    const words = spaced(root.children.find(({ name }) => name === "desc")!.text);
    expect(words).toMatch(/playback: 62\.1 dB at 1 kHz; .* −3 dB re 1 kHz at 57\.7 Hz and 4\.73 kHz\./);
  });

  test("It shows title, conditions, preferred frequencies, decibels, degrees and −3 dB points.", () => {
    const shown = texts(parsed(bodeSvg([playback], title))).map((text) => spaced(text.shown));
    for (const wanted of [circuit.title, "50", "1k", "20k", "60", "−90", "−3 dB", "57.7 Hz", "4.73 kHz"]) {
      expect(shown).toContain(wanted);
    }
    expect(shown.join(" ")).toContain("modes play, record · B1 9 V · ambient 25 °C");
  });

  test("Curves differ in their dashes as well as their colours, five of them.", () => {
    const five = [1, 2, 3, 4, 5].map((i) => response({ path: `p${i}`, gain: i, low: 20, high: 9e3 }));
    const curves = all(parsed(bodeSvg(five, title))).filter(
      ({ name, attributes }) => name === "path" && (attributes.d?.length ?? 0) > 100,
    );
    const gain = curves.slice(0, 5).map(({ attributes }) => attributes);
    expect(new Set(gain.map(({ stroke }) => stroke)).size).toBe(5);
    expect(new Set(gain.map((each) => each["stroke-dasharray"])).size).toBe(5);
  });

  test("Names at the ends of curves never overlap, even of curves that end together.", () => {
    const shape = fc.record({
      gain: fc.double({ min: 0.001, max: 1000, noNaN: true }),
      high: fc.double({ min: 100, max: 1e5, noNaN: true }),
      quantity: fc.constantFrom("voltage" as const, "current" as const),
    });
    fc.assert(
      fc.property(fc.array(shape, { minLength: 1, maxLength: 6 }), (shapes) => {
        const responses = shapes.map((each, i) => response({ path: `path${i}`, low: 20, ...each }));
        const shown = texts(parsed(bodeSvg(responses, title)));
        const names = shown.filter((text) => text.shown.startsWith("path"));
        expect(names.length).toBeGreaterThanOrEqual(2 * responses.length);
        const right = shown.filter(({ x }) => x >= names[0]!.x - 0.1).toSorted((a, b) => a.y - b.y);
        right.slice(1).forEach((text, i) => {
          expect(text.y - right[i]!.y).toBeGreaterThan(9.5);
        });
      }),
      { numRuns: 60 },
    );
  });

  test("A hostile title is text and nothing else.", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) => {
        const hostile = `</title><script>"'&]]>\u0000${text}`;
        const named = { ...playback, path: hostile };
        const root = parsed(bodeSvg([named], { title: hostile, conditions: [hostile] }));
        expect(all(root).some(({ name }) => name === "script")).toBe(false);
      }),
      { numRuns: 40 },
    );
  });

  test("No output, no points and no paths at all are drawn without a number that is none.", () => {
    const notch = { ...playback, gain_db: playback.gain_db.map((g, i) => (i === 9 ? -Infinity : g)) };
    const empty = { ...playback, hertz: [], gain_db: [], phase_degrees: [], real: [], imag: [] };
    const cases = [
      [dumb],
      [dumb, playback],
      [notch],
      [empty],
      [],
      [{ ...dumb, hertz: [50], gain_db: [-Infinity] }],
    ];
    for (const responses of cases) {
      const svg = bodeSvg(responses, title);
      parsed(svg);
      expect(svg).not.toMatch(/NaN|Infinity|undefined/);
    }
    expect(bodeSvg([dumb, playback], title)).toContain("No output: dumb");
  });

  test("Everything drawn lies on the sheet, whatever the range.", () => {
    const range = fc.tuple(
      fc.double({ min: 0.1, max: 1e6, noNaN: true }),
      fc.double({ min: 1, max: 1e5, noNaN: true }),
    );
    fc.assert(
      fc.property(range, ([low, ratio]) => {
        const given = response({
          path: "a",
          gain: 10,
          low: 30,
          high: 9e3,
          hertz: sweep(low, low * ratio, 3),
        });
        const root = parsed(bodeSvg([given], title));
        const [, , width, height] = root.attributes.viewBox!.split(" ").map(Number);
        for (const { x, y } of texts(root)) {
          expect(x).toBeGreaterThanOrEqual(0);
          expect(x).toBeLessThanOrEqual(width!);
          expect(y).toBeGreaterThan(0);
          expect(y).toBeLessThanOrEqual(height!);
        }
      }),
      { numRuns: 60 },
    );
  });

  test("Inside a page it has no paper, no title and no colour of its own for the ink.", () => {
    const root = parsed(bodeSvg([playback], title, { inline: true }));
    expect(root.attributes.color).toBeUndefined();
    expect(all(root).some(({ name }) => name === "rect")).toBe(false);
    expect(texts(root).map(({ shown }) => shown)).not.toContain(circuit.title);
  });
});
