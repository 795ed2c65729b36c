import { createHash } from "node:crypto";
import fc from "fast-check";
import { XMLParser, XMLValidator } from "fast-xml-parser";
import { describe, expect, test } from "vitest";
import { reportHtml } from "../../src/report/html.ts";
import { circuit, headCurrent, play, playback, record } from "./fixtures.ts";
import { expectGolden } from "./golden.ts";

const contents = {
  conditions: ["modes play, record", "B1 9 V", "ambient 25 °C"],
  charts: [play, record],
  responses: [playback, headCurrent],
};

const page = reportHtml(circuit, contents);
/** The page without the declaration of its type is well-formed XML. */
const body = (html: string) => html.replace("<!doctype html>", "");

describe("the page to print", () => {
  test("The page, as it is to look.", () => {
    expectGolden("report.html", page);
  });

  test("It is well-formed, and has its sections in order.", () => {
    expect(XMLValidator.validate(body(page))).toBe(true);
    const titles = [...page.matchAll(/<h2><b>(\d)<\/b>(.*?)<\/h2>/g)].map(
      ([, number, title]) => `${number} ${title}`,
    );
    expect(titles).toEqual(["1 Conditions", "2 Voltages", "3 Response", "4 Cautions"]);
  });

  test("Its policy allows its own style and nothing else.", () => {
    const style = /<style>(.*?)<\/style>/s.exec(page)![1]!;
    const hash = createHash("sha256").update(style).digest("base64");
    const policy = /Content-Security-Policy" content="(.*?)"/.exec(page)![1]!.replaceAll("&#39;", "'");
    expect(policy).toBe(
      `default-src 'none'; style-src 'sha256-${hash}'; base-uri 'none'; form-action 'none'`,
    );
    expect(page).not.toMatch(/<script| style="|https?:\/\/(?!www\.w3\.org)/);
  });

  test("Every cell of the voltage chart has its row and its mode.", () => {
    const parser = new XMLParser({
      ignoreAttributes: false,
      isArray: (name) => ["tr", "td", "th"].includes(name),
    });
    const document = parser.parse(body(page));
    const table = document.html.body.section[1].div.table;
    const first = table.tbody[0].tr.find((row: { "@_class": string }) => row["@_class"] === "main");
    expect(first.th[0]["#text"]).toBe("T1 LN");
    expect(first.td).toHaveLength(10);
    expect(table.thead.tr[0].th.map((th: { "@_colspan": string }) => th["@_colspan"])).toEqual(["5", "5"]);
  });

  test("Only results that are there have a section.", () => {
    const voltages = reportHtml(circuit, { charts: [play] });
    expect(voltages).toContain("Voltages");
    expect(voltages).not.toContain("<svg");
    expect(voltages).toContain("ambient 25");
    expect(reportHtml(circuit, { responses: [playback] })).not.toContain("Volts against chassis");
  });

  test("A deviation worth a look is in the accent, a small one is not.", () => {
    expect(page).toMatch(/<td class="look">−1\.02<\/td>/);
    expect(page.match(/<td class="look">0/g)).toBeNull();
  });

  test("Hostile names and titles are text and nothing else.", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) => {
        const hostile = `</style></h1><script>alert(1)</script>"'&\u0000${text}`;
        const html = reportHtml(
          { ...circuit, title: hostile },
          {
            conditions: [hostile],
            charts: [{ ...play, mode: hostile }],
            responses: [{ ...playback, path: hostile }],
          },
        );
        expect(XMLValidator.validate(body(html))).toBe(true);
        expect(html).not.toContain("<script");
      }),
      { numRuns: 30 },
    );
  });
});
