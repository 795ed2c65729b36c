/** A page to print: conditions, voltage chart and Bode plot on A4, in one file without any script. */
import type { PathResponse, VoltageChart } from "../bench/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { bodeSvg } from "./bode-svg.ts";
import { chartRows } from "./chart-rows.ts";
import { differenceText } from "./differences.ts";
import { summaryTable, voltageTables } from "./html-tables.ts";
import { element, type Markup, together } from "./markup.ts";
import { celsius } from "./numbers.ts";
import { PAGE_STYLE, PAGE_STYLE_HASH } from "./page-style.ts";
import { huntingTexts, restText, voltageNotes } from "./voltage-notes.ts";

/** What stands on the page. Sections without results are left out. */
export interface ReportContents {
  /** Short phrases: modes, settings, battery, ambient temperature, meter. */
  readonly conditions?: readonly string[];
  readonly charts?: readonly VoltageChart[];
  readonly responses?: readonly PathResponse[];
}

interface Section {
  readonly title: string;
  readonly content: Markup;
}

const CAUTIONS =
  "Figures are calculated for typical samples; a reading a fifth off is no fault yet. " +
  "A set fed from the mains holds lethal voltages, its capacitors also after it is unplugged: unplug it, discharge them " +
  "through a resistor and check with a meter before touching anything. Cans and heat sinks may be live or hot. " +
  "Follow the rules of your country, and leave mains wiring to those licensed for it.";

const POLICY = `default-src 'none'; style-src '${PAGE_STYLE_HASH}'; base-uri 'none'; form-action 'none'`;

const paragraph = (text: string): Markup => element("p", {}, text);

function voltageSection(circuit: Circuit, charts: readonly VoltageChart[]): Section {
  const rows = chartRows(circuit, charts);
  const all = rows.modes.map((_, i) => i);
  const notes = rows.modes.length > 1 ? voltageNotes(rows, all) : [];
  const texts = [
    notes.length > 0 ? `${notes.join(". ")}.` : "",
    ...huntingTexts(rows),
    restText(rows),
    differenceText(rows),
  ];
  return {
    title: "Voltages",
    content: together(voltageTables(rows), ...texts.filter((text) => text !== "").map(paragraph)),
  };
}

function responseSection(circuit: Circuit, responses: readonly PathResponse[]): Section {
  const svg = bodeSvg(responses, { title: circuit.title, conditions: [] }, { inline: true });
  return {
    title: "Response",
    content: together(element("figure", {}, { markup: svg }), summaryTable(responses)),
  };
}

function conditionsSection(circuit: Circuit, { conditions, charts = [] }: ReportContents): Section {
  const ambient = [...new Set(charts.map((chart) => chart.ambient_celsius))];
  const known = ambient.length > 0 ? ambient : [circuit.ambientCelsius];
  const phrases = conditions ?? [`ambient ${known.map(celsius).join(", ")}`];
  return { title: "Conditions", content: paragraph(phrases.join(" · ")) };
}

/** The page as an HTML document. It loads nothing, runs nothing, and prints on A4. */
export function reportHtml(circuit: Circuit, contents: ReportContents): string {
  const { charts = [], responses = [] } = contents;
  const sections = [
    conditionsSection(circuit, contents),
    ...(charts.length > 0 ? [voltageSection(circuit, charts)] : []),
    ...(responses.length > 0 ? [responseSection(circuit, responses)] : []),
    { title: "Cautions", content: paragraph(CAUTIONS) },
  ];
  const head = together(
    element("meta", { charset: "utf-8" }),
    element("meta", { "http-equiv": "Content-Security-Policy", content: POLICY }),
    element("meta", { name: "viewport", content: "width=device-width, initial-scale=1" }),
    element("title", {}, circuit.title),
    element("style", {}, { markup: PAGE_STYLE }),
  );
  const body = together(
    element("h1", {}, circuit.title),
    ...sections.map(({ title, content }, i) =>
      element("section", {}, element("h2", {}, element("b", {}, String(i + 1)), title), content),
    ),
  );
  const document = element("html", { lang: "en" }, element("head", {}, head), element("body", {}, body));
  return `<!doctype html>\n${document.markup}\n`;
}
