import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import type { Waveform } from "../../../src/bench/waveform/results.ts";
import { readNetlist } from "../../../src/language/index.ts";
import { DEMOS } from "../../../src/page/demos.ts";
import { regulationJob } from "../../../src/page/long-work/regulation.ts";
import { amps, volts } from "../../../src/report/numbers.ts";
import { regulationRow } from "../../../src/report/regulation-table.ts";
import { separatedRows } from "../../../src/report/separated-rows.ts";
import { secondsText, unitText } from "../../../src/report/waveform-words.ts";
import { describeInBrowser } from "./browser.ts";
import { commanded } from "./command.ts";
import { barriers, beyondTheEdge, picture, plainSpace, textIn } from "./looks.ts";

/** Long work on two busy cores. */
const LONG = { timeout: 90_000 };

const section = (page: Page) => page.locator("#waveforms");
const words = (page: Page) => textIn(section(page));
const field = (page: Page, label: string) => section(page).getByLabel(label, { exact: true });
const press = (page: Page, name: string) => section(page).getByRole("button", { name, exact: true }).click();
const drawn = (page: Page) => section(page).locator(".drawing svg path").first().waitFor(LONG);

const row = (page: Page, name: string) =>
  section(page).locator(".summary").first().locator("tr", { hasText: name });

/** A burst at the head of the recorder while its battery is switched off. */
async function askMuch(page: Page): Promise<void> {
  await field(page, "tone from").selectOption("K1");
  await field(page, "as").selectOption("burst");
  await field(page, "sounding from").fill("1 ms");
  await field(page, "until").fill("2 ms");
  await section(page).locator("summary", { hasText: "On the way" }).click();
  await field(page, "what happens, a line each").fill("3 ms B1 = off");
  await field(page, "shown besides").fill("line_out, B1 current");
  await field(page, "for").fill("4 ms");
  await press(page, "run");
  await drawn(page);
}

const ASKED =
  'waveform recorder.netlist --mode play --start point --tone 1kHz,1mV,K1 --at "1ms K1=on" --at "2ms K1=off" --at "3ms B1=off" --show "line_out,B1 current" --for 4ms';

describeInBrowser("waveforms on the page", ({ open, folder }) => {
  it("runs a waveform when asked, draws it, reads it as the command does, and greys it when something changes", async () => {
    const page = await open();
    await field(page, "tone from").selectOption("K1");
    await field(page, "for").fill("2 ms");
    await page.keyboard.press("Enter");
    await drawn(page);
    const [wave] = await commanded<Waveform>(
      "waveform recorder.netlist --mode play --start point --tone 1kHz,1mV,K1 --for 2ms",
    );
    const { least, greatest, last } = wave!.readings.line_out!;
    for (const value of [least, greatest, last])
      expect(await textIn(row(page, "line_out"))).toContain(plainSpace(volts(value)));
    await field(page, "for").fill("soon");
    expect(await textIn(page.locator("#waveform-amiss"))).toContain("duration");
    expect(await field(page, "for").getAttribute("aria-invalid")).toBe("true");
    expect(await section(page).locator(".earlier").count()).toBe(1);
  });

  it("runs a burst with an event and the current of a part as the command does, and gives it out", async () => {
    const page = await open();
    await askMuch(page);
    const [wave] = await commanded<Waveform>(ASKED);
    const shown = await textIn(row(page, "B1 current"));
    const { least, greatest } = wave!.readings["B1 current"]!;
    for (const value of [least, greatest]) expect(shown).toContain(plainSpace(amps(value)));
    const texts: string[] = [];
    for (const words of ["values (CSV)", "drawing (SVG)"]) {
      const button = section(page).getByRole("button", { name: `Save oscillogram as ${words}` });
      const [download] = await Promise.all([page.waitForEvent("download"), button.click()]);
      const file = `${folder}/${download.suggestedFilename()}`;
      await download.saveAs(file);
      texts.push(readFileSync(file, "utf8"));
    }
    const [head, ...rows] = separatedRows(texts[0]!).filter((cells) => cells.length > 1);
    expect(head).toEqual(["mode", "seconds", "line_out volts", "B1 amps"]);
    expect(rows.map(([, seconds]) => Number(seconds))).toEqual(wave!.seconds);
    for (const [k, cells] of rows.entries()) expect(Number(cells[3])).toBeCloseTo(wave!.currents!.B1![k]!, 6);
    expect(texts[1]).toMatch(/^<\?xml|^<svg/);
  });

  it("has a cursor that keys move, and says what stands under it", async () => {
    const page = await open();
    await askMuch(page);
    const [wave] = await commanded<Waveform>(ASKED);
    const slider = page.getByRole("slider", { name: "cursor of the oscillogram, time" });
    await slider.focus();
    for (const [key, index] of [
      ["Home", 0],
      ["ArrowRight", 1],
      ["PageUp", 51],
      ["End", 1000],
      ["PageDown", 950],
    ] as const) {
      await page.keyboard.press(key);
      const said = await textIn(section(page).locator(".cursor-words"));
      expect(said).toContain(`At ${plainSpace(secondsText(wave!.seconds[index]!))}:`);
      expect(said).toContain(`B1 current ${plainSpace(unitText(wave!.currents!.B1![index]!, "A"))}`);
      expect(await slider.getAttribute("aria-valuenow")).toBe(String(index));
    }
    // the line stands where the drawing's own mark of the event does
    await slider.focus();
    await page.keyboard.press("Home");
    for (let k = 0; k < 15; k++) await page.keyboard.press("PageUp");
    const mark = section(page).locator(".drawing line[stroke-dasharray='6 3']").last();
    const x = () => section(page).locator(".cursor line").getAttribute("x1");
    const event = Number(await mark.getAttribute("x1"));
    await expect.poll(async () => Math.abs(Number(await x()) - event)).toBeLessThan(0.01);
    const before = await x();
    const box = (await section(page).locator(".drawing svg").boundingBox())!;
    await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2);
    await expect.poll(x).not.toBe(before);
  });

  it("shows what has been computed when a run is broken off, and where that was", async () => {
    const page = await open();
    await field(page, "tone from").selectOption("K1");
    await field(page, "for").fill("10 s");
    await press(page, "run");
    await expect.poll(() => words(page), LONG).toMatch(/running … \d+ %/);
    await press(page, "cancel");
    await drawn(page);
    expect(await words(page)).toMatch(/Broken off at [\d.]+ m?s of 10 s/);
    expect(await words(page)).not.toContain("running");
    await press(page, "run");
    await expect.poll(() => words(page)).toContain("running …");
    await press(page, "cancel");
    await expect.poll(() => words(page)).not.toMatch(/running|stopping/);
  });

  it("draws the speed of a governed motor, as far as it has come when it is broken off", async () => {
    const page = await open();
    await page.locator("#demos").selectOption("motor-regulator.netlist");
    await page.getByLabel("run", { exact: true }).check();
    await press(page, "speed against battery and load");
    // a point of fourteen is done
    await expect.poll(() => words(page), LONG).toMatch(/running … ([7-9]|\d\d) %/);
    await section(page).locator(".regulation").getByRole("button", { name: "cancel" }).click();
    await section(page).locator(".regulation figure").waitFor(LONG);
    expect(await words(page)).toContain("Broken off: the rest of this curve is missing.");
    const circuit = readNetlist(DEMOS["motor-regulator.netlist"]!).circuit!;
    const job = regulationJob({ circuit, conditions: {}, mode: "run" });
    let next = job.next();
    while (next.done !== true) next = job.next(next.value > 0);
    const point = regulationRow(next.value.results[0]!.points[0]!, "volt");
    const shown = await section(page)
      .locator(".regulation tbody tr")
      .first()
      .locator("th, td")
      .allTextContents();
    expect(shown.slice(0, 2)).toEqual(point.slice(0, 2));
    // a column that says nothing in any row is not there
    const saying = (cells: readonly string[]) => cells.filter((text) => text !== "");
    expect(saying(shown)).toHaveLength(saying(point).length);
    await section(page).screenshot({ path: picture("regulation.png") });
    expect(await barriers(page)).toEqual([]);
  });

  it.each([
    ["light", { viewport: { width: 1200, height: 900 } }],
    ["dark", { viewport: { width: 1200, height: 900 }, colorScheme: "dark" }],
    ["tablet", { viewport: { width: 768, height: 1024 } }],
    ["telephone", { viewport: { width: 400, height: 800 } }],
  ] as const)("fits and has no serious barrier with everything opened, %s", async (name, options) => {
    const page = await open(options);
    await askMuch(page);
    await field(page, "until").fill("0.5 ms");
    for (const summary of await section(page).locator("details:not([open]) > summary").all())
      await summary.click();
    expect(await beyondTheEdge(page)).toEqual([]);
    expect(await barriers(page)).toEqual([]);
    await section(page).screenshot({ path: picture(`waveforms-${name}.png`) });
  });
});
