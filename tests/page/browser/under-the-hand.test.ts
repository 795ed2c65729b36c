import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { describeInBrowser } from "./browser.ts";

const bandsThere = (page: Page) =>
  page.waitForFunction(() => document.querySelector(".band")?.textContent?.includes("…"));

const field = (page: Page, point: string) => page.getByLabel(`reading at ${point}, volts`);

const focused = (page: Page) => page.evaluate(() => document.activeElement?.getAttribute("aria-label"));

/** Bottom edges of what the chart and the plot are made of, below the top of the window. */
const bottoms = (page: Page) =>
  page.evaluate(() => {
    const bottom = (element: Element | null | undefined) =>
      element?.getBoundingClientRect().bottom ?? Infinity;
    return {
      window: window.innerHeight,
      chart: bottom([...document.querySelectorAll(".chart tbody tr")].at(-1)),
      nets: bottom(document.querySelector(".nets")),
      plot: bottom(document.querySelector(".bode")),
    };
  });

/** Where everything stands that must stand still: left, top, height; of a figure, whose digits change, the right. */
const places = (page: Page) =>
  page.evaluate(() => {
    const still =
      ":is(#conditions, #voltages, #response) h2, .slider, #voltages :is(.figure, .printed, .reading, .net), .bode";
    return [...document.querySelectorAll(still)].map((element) => {
      const { left, right, top, height } = element.getBoundingClientRect();
      const side = element.matches(".figure") ? right : left;
      return [element.className, Math.round(10 * side), Math.round(10 * top), Math.round(10 * height)].join(
        " ",
      );
    });
  });

describeInBrowser("the first screen", ({ open }) => {
  it.each([
    [1280, 800],
    [1366, 768],
    [1920, 1080],
    [1100, 900],
    [1180, 820],
  ])("shows the chart, the response, and what to do, at %i by %i", async (width, height) => {
    const page = await open({ viewport: { width, height } });
    await page.waitForSelector(".chart");
    const { window, ...edges } = await bottoms(page);
    for (const [what, edge] of Object.entries(edges)) expect(edge, what).toBeLessThanOrEqual(window);
    const hint = page.locator(".hint");
    expect(await hint.textContent()).toMatch(/ype what your meter shows, or open your own netlist\.$/);
    const [chooser] = await Promise.all([
      page.waitForEvent("filechooser"),
      hint.getByRole("button", { name: "open your own netlist" }).click(),
    ]);
    expect(chooser.isMultiple()).toBe(true);
  });

  it.each([1280, 768, 375])(
    "has nothing to press that is lower than 24 pixels, at a width of %i",
    async (width) => {
      const page = await open({ viewport: { width, height: 900 } });
      await page.waitForSelector(".chart");
      const low = await page.evaluate(() =>
        [
          ...document.querySelectorAll(
            "#sheet :is(button, a[href]:not(.skip), select, summary, input, label.file)",
          ),
        ]
          .filter((element) => element.checkVisibility())
          // what counts is the label around them
          .map((element) => element.closest("label:has([type=radio], [type=checkbox])") ?? element)
          .filter(
            (element) => !element.matches("[type=file]") && element.getBoundingClientRect().height < 23.99,
          )
          .map((element) => element.outerHTML.slice(0, 100)),
      );
      expect(low).toEqual([]);
    },
  );
});

describeInBrowser("the sheet under the hand", ({ open }) => {
  it("stays where it is when the netlist goes wrong and is mended, though the error takes two lines", async () => {
    const page = await open({ viewport: { width: 1100, height: 900 } });
    await page.waitForSelector(".cm-content");
    const tops = () =>
      page.evaluate(() =>
        [...document.querySelectorAll("h2, .slider")].map(
          (each) => each.getBoundingClientRect().top + scrollY,
        ),
      );
    const above = async () => (await tops()).slice(0, 8);
    const before = await above();
    await page.locator(".cm-content").focus();
    await page.keyboard.press("Control+Home");
    await page.keyboard.type("resistr R99 100R rail to chassis\n");
    const problem = page.locator("header .problem");
    await expect.poll(() => problem.isVisible()).toBe(true);
    expect((await problem.boundingBox())!.height).toBeGreaterThan(30);
    expect(await above()).toEqual(before);
  });

  it("writes before a reading that is left the sign with which it is taken, in the same step", async () => {
    const page = await open();
    await bandsThere(page);
    await field(page, "T1 collector").focus();
    await page.keyboard.type("0,4");
    expect(await field(page, "T1 collector").inputValue()).toBe("0,4");
    await page.keyboard.press("Tab");
    await expect.poll(() => field(page, "T1 collector").inputValue()).toBe("−0,4");
    await page.keyboard.press("Control+z");
    await expect.poll(() => field(page, "T1 collector").inputValue()).toBe("");
  });

  it.each([1280, 768])("keeps everything where it is, at a width of %i", async (width) => {
    const page = await open({ viewport: { width, height: 900 } });
    await bandsThere(page);
    const before = await places(page);
    expect(before.length).toBeGreaterThan(100);
    await page.evaluate(() => {
      for (const band of document.querySelectorAll(".band")) band.firstChild?.remove();
    });
    expect(await places(page)).toEqual(before);

    await page.reload();
    await bandsThere(page);
    await field(page, "T3 collector").fill("1.2");
    await expect.poll(() => page.locator(".next button").count(), { timeout: 60_000 }).toBe(1);
    const withoutLook = async () =>
      (await places(page)).map((each) => each.replace("reading look", "reading"));
    expect(await withoutLook()).toEqual(before);

    await page.locator("#set-P2-setting").focus();
    await page.keyboard.down("ArrowRight");
    await page.keyboard.down("ArrowRight");
    await page.keyboard.down("ArrowRight");
    await expect.poll(() => page.locator(".chart .was").count()).toBeGreaterThan(0);
    expect(await withoutLook()).toEqual(before);
    await page.keyboard.up("ArrowRight");
    await expect.poll(() => page.locator(".chart .was").count()).toBe(0);
    expect(await withoutLook()).toEqual(before);
  });

  it("goes from reading to reading by Tab, and opens by an arrow the line of what makes a figure so", async () => {
    const page = await open();
    await page.waitForSelector(".chart");
    await field(page, "T1 emitter").focus();
    const way: (string | null | undefined)[] = [];
    for (let k = 0; k < 4; k++) {
      await page.keyboard.press("Tab");
      way.push(await focused(page));
    }
    expect(way).toEqual([
      "reading at T1 base, volts",
      "reading at T1 collector, volts",
      "reading of T1 current, milliamperes",
      "reading at T2 emitter, volts",
    ]);
    await page.keyboard.press("ArrowDown");
    const line = page.locator("#parts-of-figure");
    await expect
      .poll(() => line.textContent(), { timeout: 60_000 })
      .toMatch(/^T2 emitter −\d+.mV\. \S+ .*: [+−]\d+/);
    const row = page.locator(".chart tbody tr", { hasText: "T2" }).first();
    expect((await line.boundingBox())!.y).toBeGreaterThanOrEqual((await row.boundingBox())!.y);
    await page.keyboard.press("ArrowUp");
    await expect.poll(() => line.count()).toBe(0);
    expect(await focused(page)).toBe("reading at T2 emitter, volts");
  });

  it("takes a collector current as a reading, in milliamperes where nothing is said", async () => {
    const page = await open();
    await bandsThere(page);
    const current = page.getByLabel("reading of T1 current, milliamperes");
    await current.fill("0.9");
    const cell = page.locator("td[data-pin=current]").first();
    await expect.poll(() => cell.locator(".mark").textContent()).toBe("▲");
    expect(await cell.locator(".reading").textContent()).toContain("milliamperes");
    await expect
      .poll(() => page.locator("#suspects .predictions").textContent(), { timeout: 60_000 })
      .toContain("T1 current");
    expect(await page.locator(".other-readings").textContent()).not.toContain("T1 current");
    await page.reload();
    await expect.poll(() => current.inputValue()).toBe("0.9");
    await current.fill("about one");
    await expect.poll(() => cell.locator(".mark").textContent()).toBe("?");
  });

  it("remembers which sections are folded, and opens one to which its number leads", async () => {
    const page = await open();
    await page.waitForSelector(".chart");
    await page.getByRole("button", { name: /^4\s*Stages/ }).click();
    await page.getByRole("button", { name: /^3\s*Response/ }).click();
    await page.waitForTimeout(600);
    await page.reload();
    await page.waitForSelector(".chart");
    expect(await page.locator("section.folded").evaluateAll((all) => all.map(({ id }) => id))).toEqual([
      "response",
      "stages",
    ]);
    // a folded section leaves its half of the sheet to the other
    const [chart, conditions] = await Promise.all(
      ["#voltages", "#conditions"].map((id) => page.locator(id).boundingBox()),
    );
    expect(chart!.width).toBeCloseTo(conditions!.width, 0);
    await page.getByRole("link", { name: /stages$/ }).click();
    await expect.poll(() => page.locator("#stages").getAttribute("class")).not.toContain("folded");
    await expect.poll(() => page.evaluate(() => window.scrollY)).toBeGreaterThan(200);
  });
});
