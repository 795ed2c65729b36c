import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { voltages } from "../../../src/bench/voltages.ts";
import { readNetlist } from "../../../src/language/index.ts";
import { DEMOS } from "../../../src/page/demos.ts";
import { plain } from "../../../src/report/numbers.ts";
import { STAGE } from "../../cli/desk.ts";
import { describeInBrowser } from "./browser.ts";
import { sheetFile } from "./sheet-file.ts";

const { circuit } = readNetlist(DEMOS["recorder.netlist"]!);

describeInBrowser("the page, opened from a file", ({ open, folder }) => {
  it("shows the demonstration recorder, solved: every transistor's figures and the response of every path", async () => {
    const page = await open();
    await page.waitForSelector(".chart");
    expect(await page.locator("h1").textContent()).toBe(circuit!.title);
    const [chart] = voltages(circuit!, { modes: ["play"] }).results;
    for (const [name, { e_volts, b_volts, c_volts }] of Object.entries(chart!.transistors)) {
      const row = page.locator(".chart tbody tr", { hasText: name }).first();
      const shown = await row.locator("td:not([data-pin=current]) .figure").allInnerTexts();
      expect(shown.map((text) => text.split("\n").at(-1)!.trim().split(" ").at(-1))).toEqual(
        [e_volts, b_volts, c_volts].map(plain),
      );
    }
    const shapes = await page
      .locator(".bode svg svg path.curve")
      .evaluateAll((paths) => paths.map((path) => path.getAttribute("d")?.length ?? 0));
    expect(shapes).toHaveLength(6);
    for (const length of shapes) expect(length).toBeGreaterThan(1000);
    expect(await page.locator(".cursor-words").textContent()).toMatch(/^At 1.kHz: playback 53\.\d.dB/);
  });

  it("brings the bands from a worker of its own, under a policy that lets nothing else run", async () => {
    const page = await open();
    await page.waitForFunction(() => document.querySelector(".band")?.textContent?.includes("…"));
    expect(await page.locator(".chart .band").first().textContent()).toMatch(/^\d\.\d+…\d\.\d+$/);
    const policy = await page.locator("meta[http-equiv=Content-Security-Policy]").getAttribute("content");
    expect(policy).not.toContain("unsafe-inline");
  });

  it("follows a change of mode and a trimmer", async () => {
    const page = await open();
    const current = page.locator("tr", { hasText: "T6" }).locator("td[data-pin=current] .figure");
    await page.waitForSelector(".chart");
    const before = await current.textContent();
    await page.locator("#set-P2-setting").focus();
    for (let k = 0; k < 10; k++) await page.keyboard.press("ArrowRight");
    await expect.poll(() => current.textContent()).not.toBe(before);
    await page.getByLabel("record", { exact: true }).check();
    await expect.poll(() => page.locator("#voltages").textContent()).toContain("in record");
  });

  it("marks a reading beyond its band with a sign and in words, takes it back, and does it again", async () => {
    const page = await open();
    await page.waitForFunction(() => document.querySelector(".band")?.textContent?.includes("…"));
    const field = page.getByLabel("reading at T1 collector, volts");
    await field.fill("0.4");
    const cell = page.locator("td[data-pin=collector]").first();
    await expect.poll(() => cell.locator(".mark").textContent()).toBe("▲");
    expect(await cell.locator(".reading").textContent()).toContain("above the band");
    await page.getByRole("button", { name: "undo" }).click();
    await expect.poll(() => field.inputValue()).toBe("");
    await page.keyboard.press("Control+y");
    // left, a reading shows the sign with which it was taken
    await expect.poll(() => field.inputValue()).toBe("−0.4");
  });

  it("opens a sheet of another circuit, its conditions in place, and takes nothing in it for markup", async () => {
    const evil = `<img src=x onerror="document.title='caught'"></script><script>document.title='caught'</script><!--`;
    const file = join(folder, "other.html");
    const netlist = STAGE.replace("one stage", evil.replaceAll('"', "'"));
    writeFileSync(
      file,
      await sheetFile({ "one.netlist": netlist }, "sheet one.netlist --mode record --set R4=2k2"),
    );
    const page = await open({ file });
    await page.waitForSelector(".chart");
    expect(await page.locator("h1").textContent()).toContain("<img src=x");
    expect(await page.locator("img").count()).toBe(0);
    expect(await page.title()).not.toBe("caught");
    expect(await page.getByLabel("record", { exact: true }).isChecked()).toBe(true);
    expect(await page.locator("#conditions").textContent()).toContain("R4 resistance 2200");
  });

  it.each([768, 390])("never scrolls sideways at a width of %i", async (width) => {
    const page = await open({ viewport: { width, height: 1000 } });
    await page.waitForSelector(".chart");
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
  });
});
