import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import type { OscillationChart } from "../../../src/bench/oscillation/results.ts";
import type { StagesResult } from "../../../src/bench/stages/results.ts";
import type { Substitution } from "../../../src/bench/substitute/results.ts";
import { amps, decibels } from "../../../src/report/numbers.ts";
import { growingSentences } from "../../../src/report/oscillation-words.ts";
import { gain, resistance, stageSentences } from "../../../src/report/stages-words.ts";
import { describeInBrowser } from "./browser.ts";
import { commanded } from "./command.ts";
import { barriers, beyondTheEdge, picture, plainSpace, textIn } from "./looks.ts";

/** Long work on two busy cores. */
const LONG = { timeout: 60_000 };

const answered = (page: Page, id: string) => page.locator(`#${id}-content .summary`).first().waitFor(LONG);

const textOf = (page: Page, id: string) => textIn(page.locator(`#${id}`));

describeInBrowser("stages, substitutes, oscillator and waveforms on the page", ({ open }) => {
  it("says of every stage what the command says, its sentences when they are asked for", async () => {
    const page = await open();
    await answered(page, "stages");
    const [result] = await commanded<StagesResult>("stages recorder.netlist --mode play");
    for (const stage of result!.stages) {
      const row = page.locator(".stages tr", {
        has: page.getByRole("button", { name: stage.transistor, exact: true }),
      });
      const text = await textIn(row);
      expect(text).toContain(stage.configuration);
      if (stage.solved_gain !== undefined) expect(text).toContain(gain(stage.solved_gain));
      if (stage.input_ohms !== undefined) expect(text).toContain(plainSpace(resistance(stage.input_ohms)));
    }
    const first = page.locator(".stages").getByRole("button").first();
    await first.focus();
    await page.keyboard.press("Enter");
    expect(await first.getAttribute("aria-expanded")).toBe("true");
    const [because] = stageSentences(result!.stages[0]!);
    expect(await textIn(page.locator(".why:visible"))).toContain(because!.slice(1));
  });

  it("tells of the oscillator and its trap in the mode in which it swings, and that nothing grows in the other", async () => {
    const page = await open();
    await expect.poll(() => textOf(page, "oscillator"), LONG).toMatch(/nothing grows/i);
    await page.getByLabel("record", { exact: true }).check();
    const [chart] = await commanded<OscillationChart>("oscillation recorder.netlist --mode record");
    for (const growing of chart!.growing)
      for (const sentence of growingSentences(growing))
        await expect.poll(() => textOf(page, "oscillator"), LONG).toContain(plainSpace(sentence));
  });

  it("tries a type in a socket, fits it in the netlist by one button, and undo takes it back", async () => {
    const page = await open();
    await page.getByLabel("in place of").selectOption("T3");
    await page.getByLabel("fit", { exact: true }).fill("AC15o");
    await page.keyboard.press("Tab");
    expect(await textIn(page.locator("#type-problem"))).toContain("did you mean");
    await page.getByLabel("fit", { exact: true }).fill("AC150");
    await page.keyboard.press("Tab");
    await answered(page, "substitutes");
    const [found] = await commanded<Substitution>("substitute recorder.netlist T3 AC150");
    const text = await textOf(page, "substitutes");
    for (const { gain_db } of Object.values(found!.candidates[0]!.paths))
      expect(text).toContain(decibels(gain_db));
    for (const { warnings } of found!.candidates)
      for (const warning of warnings) expect(text).toContain(plainSpace(warning));
    const netlist = () => page.locator("#netlist pre").textContent();
    const before = await netlist();
    await page.getByRole("button", { name: "fit it in the netlist" }).click();
    await expect.poll(netlist).toMatch(/transistor +T3 +AC150 +b T2\.c/);
    await page.getByRole("button", { name: "undo" }).click();
    await expect.poll(netlist).toBe(before);
  });

  it("tries a type in both halves of a push-pull stage, as the command does, and fits both in one step", async () => {
    const page = await open();
    await page.getByLabel("in place of").selectOption("T6");
    await page.getByRole("button", { name: "try both together" }).click();
    await page.getByLabel("fit", { exact: true }).fill("DR");
    await page.keyboard.press("Tab");
    await answered(page, "substitutes");
    const [found] = await commanded<Substitution>("substitute recorder.netlist T6,T7 DR");
    const text = await textOf(page, "substitutes");
    const { transistors, paths } = found!.candidates[0]!;
    for (const name of ["T6", "T7"]) {
      const row = page.locator("#substitutes .summary tr", { hasText: `${name}, collector current` });
      expect(await textIn(row)).toContain(plainSpace(amps(transistors[name]!.ic_amps)));
    }
    for (const { gain_db } of Object.values(paths)) expect(text).toContain(decibels(gain_db));
    const netlist = () => page.locator("#netlist pre").textContent();
    const before = await netlist();
    await page.getByRole("button", { name: "fit it in the netlist" }).click();
    await expect.poll(netlist).toMatch(/transistor +T6 +DR/);
    expect(await netlist()).toMatch(/transistor +T7 +DR/);
    await page.getByRole("button", { name: "undo" }).click();
    await expect.poll(netlist).toBe(before);
  });

  it("fits a tablet and has nothing that axe finds serious, with everything opened", async () => {
    const page = await open({ viewport: { width: 768, height: 1024 } });
    await answered(page, "stages");
    await expect.poll(() => textOf(page, "oscillator"), LONG).toMatch(/nothing grows/i);
    for (const id of ["stages", "oscillator", "waveforms"])
      await page.locator(`#${id} summary`).first().click();
    expect(await beyondTheEdge(page)).toEqual([]);
    expect(await barriers(page)).toEqual([]);
    await page.locator("#stages").screenshot({ path: picture("stages-tablet.png") });
    await page.locator("#waveforms").screenshot({ path: picture("waveforms-tablet.png") });
  });
});
