import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import type { OscillationChart } from "../../../src/bench/oscillation/results.ts";
import type { StagesResult } from "../../../src/bench/stages/results.ts";
import type { SuspectsResult } from "../../../src/bench/suspects/results.ts";
import { levelRows } from "../../../src/report/oscillation-table.ts";
import { LOOP_HEAD, loopRow } from "../../../src/report/stages-table.ts";
import { gain, resistance } from "../../../src/report/stages-words.ts";
import { bitsText, faultText, percentText, readingText } from "../../../src/report/suspects-words.ts";
import { describeInBrowser } from "./browser.ts";
import { commanded } from "./command.ts";
import { barriers, picture, plainSpace, textIn } from "./looks.ts";

/** Long work on two busy cores. */
const LONG = { timeout: 90_000 };

const cells = (rows: readonly (readonly string[])[]) => rows.map((row) => row.map(plainSpace));

/** The cells of a table by its caption. */
const tableOf = (page: Page, caption: string) =>
  page
    .locator("table", { has: page.locator("caption", { hasText: caption }) })
    .locator("tbody tr")
    .evaluateAll((rows) =>
      rows.map((row) =>
        [...row.querySelectorAll("th, td")].map((cell) => cell.textContent.replaceAll("\u00a0", " ")),
      ),
    );

async function twoReadings(page: Page): Promise<void> {
  await page.waitForSelector(".chart");
  await page.getByLabel("reading at T1 collector, volts").fill("0.4");
  await page.getByLabel("reading at T1 emitter, volts").fill("0.3");
}

describeInBrowser("answers on the page", ({ open }) => {
  it("name the suspects of the command with its probabilities, predictions and points to measure", async () => {
    const page = await open();
    await twoReadings(page);
    const [result] = await commanded<SuspectsResult>(
      "suspects recorder.netlist --reading play:T1.c=-0.4V --reading play:T1.e=-0.3V",
    );
    const faults = () => page.locator(".suspects .fault").allTextContents();
    const wanted = result!.suspects.map((each) => `${percentText(each.probability)} ${faultText(each)}`);
    await expect.poll(async () => (await faults()).map(plainSpace), LONG).toEqual(wanted.map(plainSpace));
    const predictions = await tableOf(page, "what each suspect would make of them");
    for (const [k, reading] of result!.readings.entries()) {
      const shown = predictions[k]!.slice(3).map((text) => text.replace(/ a slip\?$/, ""));
      const best = result!.suspects.slice(0, 3).map(({ predicted }) => predicted[k]!);
      expect(shown).toEqual(best.map((value) => plainSpace(readingText(value, reading.unit))));
    }
    const probes = await textIn(page.locator(".probes"));
    for (const { bits } of result!.next) expect(probes).toContain(plainSpace(bitsText(bits)));
    expect(await barriers(page)).toEqual([]);
    await page.locator("#suspects").screenshot({ path: picture("suspects.png") });
  });

  it("give every figure of every stage and loop as the command does", async () => {
    const page = await open();
    await page.locator("#stages-content .summary").first().waitFor(LONG);
    const [result] = await commanded<StagesResult>("stages recorder.netlist --mode play");
    for (const { transistor, solved_gain, input_ohms, output_ohms } of result!.stages) {
      const row = page.locator(".stages tr", {
        has: page.getByRole("button", { name: transistor, exact: true }),
      });
      const shown = (await row.locator("td").allTextContents()).slice(1, 4).map(plainSpace);
      const texts = [
        solved_gain === undefined ? "–" : gain(solved_gain),
        input_ohms === undefined ? "–" : resistance(input_ohms),
        output_ohms === undefined ? "–" : resistance(output_ohms),
      ];
      expect([transistor, ...shown]).toEqual([transistor, ...texts.map(plainSpace)]);
    }
    expect(LOOP_HEAD.length).toBe(loopRow(result!.loops[0]!).length);
    expect(await tableOf(page, "Feedback loops")).toEqual(cells(result!.loops.map(loopRow)));
  });

  it("give the levels of the steady swing as the command does", async () => {
    const page = await open();
    await page.waitForSelector(".chart");
    await page.getByLabel("record", { exact: true }).check();
    const [chart] = await commanded<OscillationChart>("oscillation recorder.netlist --mode record");
    const steady = chart!.growing[0]?.steady;
    if (steady === undefined || !("nets" in steady)) throw new Error("the oscillator has no steady swing");
    const wanted = cells(levelRows(steady.nets, steady.harmonics));
    await expect.poll(() => tableOf(page, "Levels of the steady swing"), LONG).toEqual(wanted);
    await page.locator("#oscillator").screenshot({ path: picture("oscillator.png") });
  });

  it("can be given up while they are worked out, and taken up again", async () => {
    const page = await open();
    // a worker that never answers
    await page.addInitScript(() => {
      window.Worker = class extends EventTarget {
        postMessage(): void {}
        terminate(): void {}
      } as unknown as typeof Worker;
    });
    await page.reload();
    const stages = page.locator("#stages");
    await stages.getByRole("button", { name: "cancel looking at every stage" }).waitFor(LONG);
    expect(await barriers(page)).toEqual([]);
    await stages.getByRole("button", { name: "cancel looking at every stage" }).click();
    expect(await textIn(stages)).toContain("cancelled");
    expect(await textIn(stages)).not.toContain("looking at every stage …");
    await stages.getByRole("button", { name: "go on looking at every stage" }).click();
    await expect.poll(() => textIn(stages)).toContain("looking at every stage …");
    const chart = page.locator("#voltages");
    await chart.getByRole("button", { name: "cancel working out the bands" }).click();
    await chart.getByRole("button", { name: "go on working out the bands" }).waitFor();
    await page.locator(".chart .figure").first().click();
    await chart.getByRole("button", { name: "cancel looking at every part" }).click();
    await chart.getByRole("button", { name: "go on looking at every part" }).waitFor();
  });
});
