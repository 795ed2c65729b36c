import type { Page } from "playwright-core";
import { describe, expect, it } from "vitest";
import type { PathResponse, VoltageChart } from "../../../src/bench/results.ts";
import { DEMOS } from "../../../src/page/demos.ts";
import { preprobe } from "../../cli/desk.ts";
import { describeInBrowser } from "./browser.ts";
import { barriers, beyondTheEdge, picture, says } from "./looks.ts";

const MISTAKE = "resistr R99 100R rail to chassis";

/** The page with its editor and bands there. */
async function ready(page: Page): Promise<Page> {
  await page.waitForSelector(".cm-content");
  await page.waitForFunction(() => document.querySelector(".band")?.textContent?.includes("…"));
  return page;
}

/** Types a line at the end of the netlist. */
async function typeAtEnd(page: Page, line: string): Promise<void> {
  await page.locator(".cm-content").focus();
  await page.keyboard.press("Control+End");
  await page.keyboard.type(`\n${line}`);
}

const chartText = (page: Page) => page.locator(".chart").textContent();

async function resultsOf<Result>(line: string): Promise<readonly Result[]> {
  const { out, err, code } = await preprobe(`${line} --json`, {
    "recorder.netlist": DEMOS["recorder.netlist"]!,
  });
  if (code !== 0) throw new Error(err);
  return JSON.parse(out).results;
}

describeInBrowser("the page in use", ({ open }) => {
  it("says in the netlist what is wrong with it, keeps the last good state, and goes on when it is mended", async () => {
    const page = await ready(await open());
    const [chart, notes] = [await chartText(page), await page.locator("#voltages").textContent()];
    await typeAtEnd(page, MISTAKE);
    const sentence = page.locator(".remark-line.error");
    await expect.poll(() => sentence.textContent()).toContain('"resistr" is no kind of part');
    expect(await sentence.textContent()).toContain('did you mean "resistor"?');
    expect(await page.getByRole("alert").first().textContent()).toContain("last good state");
    expect(await page.locator("#voltages .good-state").textContent()).toBe("the last good state");
    expect(await chartText(page)).toBe(chart);
    await page.keyboard.press("Home");
    for (let k = 0; k < 6; k++) await page.keyboard.press("ArrowRight");
    await page.keyboard.type("o");
    await expect.poll(() => page.locator(".good-state").count()).toBe(0);
    expect(await sentence.count()).toBe(0);
    await expect.poll(() => page.locator("#voltages").textContent()).not.toBe(notes);
  });

  it("takes typing back by the sheet's one history, from within the editor and from without", async () => {
    const page = await ready(await open());
    const text = () => page.locator("#netlist pre").textContent();
    const before = await text();
    await typeAtEnd(page, "# a remark of mine");
    await expect.poll(text).toContain("a remark of mine");
    await page.keyboard.press("Control+z");
    await expect.poll(text).toBe(before);
    await page.keyboard.press("Control+y");
    await expect.poll(text).toContain("a remark of mine");
    await page.getByRole("button", { name: "undo" }).click();
    await expect.poll(text).toBe(before);
    expect(await page.locator(".cm-content").textContent()).not.toContain("a remark of mine");
  });

  it("offers pins and types, taken with the arrow and Enter; Tab leaves the editor", async () => {
    const page = await ready(await open());
    await typeAtEnd(page, "wire rail to T1.");
    const offers = page.getByRole("listbox");
    await expect.poll(() => offers.textContent()).toContain("T1.e");
    // an offer just come does not take a key yet
    await page.waitForTimeout(150);
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("Enter");
    await expect.poll(() => page.locator("#netlist pre").textContent()).toMatch(/wire rail to T1\.[ebc]$/);
    await page.keyboard.press("Tab");
    expect(await page.evaluate(() => document.activeElement?.className)).not.toContain("editor");
  });

  it("begins a netlist of one's own, each under a name of its own, and undo brings back what was there", async () => {
    const page = await ready(await open());
    const title = page.locator("h1");
    const before = await title.textContent();
    const begin = page.getByRole("button", { name: "begin one of your own" });
    await begin.click();
    await expect.poll(() => title.textContent()).toContain("to be typed over");
    // the hand lies on the title
    await page.keyboard.type('circuit "Kitchen radio"');
    await expect.poll(() => title.textContent()).toBe("Kitchen radio");
    expect(await page.locator("#netlist-file").inputValue()).toBe("own.netlist");
    await begin.click();
    await expect.poll(() => page.locator("#netlist-file").inputValue()).toBe("own-2.netlist");
    const undo = page.getByRole("button", { name: "undo" });
    await undo.click();
    await expect.poll(() => title.textContent()).toBe("Kitchen radio");
    while ((await title.textContent()) !== before && (await undo.isEnabled())) await undo.click();
    expect(await title.textContent()).toBe(before);
  });

  it("shows the netlist of the circuit that is open", async () => {
    const page = await ready(await open());
    await page.locator("#demos").selectOption("common-emitter.netlist");
    await expect.poll(() => page.locator("h1").textContent()).not.toContain("LINDEN");
    await expect.poll(() => page.locator(".cm-content").textContent()).toContain("common-emitter.netlist");
    await page.locator("#netlist-file").selectOption("library.netlist");
    await expect.poll(() => page.locator(".cm-content").getAttribute("aria-readonly")).toBe("true");
  });

  it("follows a trimmer dragged by hand, old and new beside each other until it is let go", async () => {
    const page = await ready(await open());
    const slider = page.locator("#set-P2-setting");
    await slider.scrollIntoViewIfNeeded();
    // one that was used before lets go of itself only
    await page.locator("#ambient").focus();
    await page.keyboard.press("ArrowRight");
    const box = (await slider.boundingBox())!;
    const y = box.y + box.height / 2;
    await page.mouse.move(box.x + 0.4 * box.width, y);
    await page.mouse.down();
    await page.mouse.move(box.x + 0.8 * box.width, y, { steps: 8 });
    await expect.poll(() => page.locator(".chart").textContent()).toContain("→");
    await page.mouse.up();
    await expect.poll(() => page.locator(".chart").textContent()).not.toContain("→");
    expect(Number(await slider.inputValue())).toBeGreaterThan(0.6);
  });
});

describeInBrowser("the page's figures", ({ open }) => {
  const SET = "--set P2=60% --ambient 35C";

  /** The page under the conditions of `SET`, in a mode. */
  async function standing(mode: string): Promise<Page> {
    const page = await open();
    await page.waitForSelector(".chart");
    await page.locator("#set-P2-setting").fill("0.6");
    await page.locator("#ambient").fill("35");
    await page.getByLabel(mode, { exact: true }).check();
    await expect.poll(() => page.locator("#voltages").textContent()).toContain(`in ${mode}`);
    await expect.poll(() => page.locator("#ambient").inputValue()).toBe("35");
    return page;
  }

  it.each(["play", "record"])(
    "are the voltages and currents of the command in %s, to the digits shown",
    async (mode) => {
      const [chart] = await resultsOf<VoltageChart>(`voltages recorder.netlist --mode ${mode} ${SET}`);
      const page = await standing(mode);
      for (const [name, found] of Object.entries(chart!.transistors)) {
        const row = page.locator(".chart tbody tr", { hasText: name }).first();
        const shown = (pin: string) => row.locator(`td[data-pin=${pin}] .figure`).textContent();
        // all of them PNP: the current out of the collector, in mA
        const is = [found.e_volts, found.b_volts, found.c_volts, -1e3 * found.ic_amps];
        for (const [k, pin] of ["emitter", "base", "collector", "current"].entries()) {
          if ((await row.locator(`td[data-pin=${pin}] .figure`).count()) === 0) expect(is[k]).toBe(0);
          else {
            const message = `${name} ${pin} is ${is[k]}`;
            await expect.poll(async () => says(await shown(pin), is[k]!), { message }).toBe(true);
          }
        }
      }
      const nets = await page
        .locator(".nets li")
        .evaluateAll((items) =>
          items.map((item) => [
            item.querySelector(".net")?.textContent,
            item.querySelector(".figure")?.textContent,
          ]),
        );
      expect(nets.length).toBeGreaterThan(10);
      for (const [name, text] of nets) {
        const { volts } = chart!.nets[name!]!;
        expect(volts === null ? /open$/.test(text!) : says(text!, volts!), `${name}: ${text}, ${volts}`).toBe(
          true,
        );
      }
    },
  );

  it("are the gains and phases of the command's response, to the digits shown, wherever the cursor stands", async () => {
    const points = "--from 20Hz --to 20kHz --points-per-octave 20";
    const paths = await resultsOf<PathResponse>(`response recorder.netlist ${points} ${SET}`);
    const page = await standing("play");
    const plot = page.getByRole("slider", { name: /cursor of the response/ });
    await plot.focus();
    for (const key of ["Home", "PageUp", "PageUp", "PageUp", "PageUp", "ArrowRight", "End"]) {
      await page.keyboard.press(key);
      const at = Number(await plot.getAttribute("aria-valuenow"));
      const index = paths[0]!.hertz.findIndex((hertz) => Math.abs(hertz - at) <= 0.5);
      const words = (await page.locator(".cursor-words").textContent())!;
      for (const { path, gain_db, phase_degrees } of paths) {
        const [, gain, phase] = new RegExp(`${path} ([−\\d.]+).dB[^,·]*(?:, ([−\\d]+)°)?`).exec(words) ?? [];
        expect(says(gain ?? null, gain_db[index]!), `${path} at ${at}: ${words}, ${gain_db[index]}`).toBe(
          true,
        );
        const turns = (Number(phase?.replace("−", "-")) - phase_degrees[index]!) / 360;
        expect(Math.abs(turns - Math.round(turns)) * 360).toBeLessThanOrEqual(0.5001);
      }
    }
    for (const { path, gain_db, hertz } of paths) {
      const row = page.locator(".summary tbody tr", { hasText: path }).first();
      const text = (await row.locator("td").first().textContent())!.replace(/ re .*$/, "");
      expect(says(text, gain_db[hertz.indexOf(1000)]!), `${path}: ${text}`).toBe(true);
    }
  });
});

describeInBrowser("the page for everyone", ({ open }) => {
  const LOOKS = [
    ["sheet", { viewport: { width: 1200, height: 900 } }],
    ["dark", { viewport: { width: 1200, height: 900 }, colorScheme: "dark" }],
    ["tablet", { viewport: { width: 768, height: 1024 } }],
    ["telephone", { viewport: { width: 400, height: 800 } }],
  ] as const;

  it.each(LOOKS)("has no serious barrier as %s", async (name, options) => {
    const page = await ready(await open(options));
    await page.screenshot({ path: picture(`${name}.png`), fullPage: true });
    expect(await barriers(page)).toEqual([]);
  });

  it.each(LOOKS.slice(0, 2))(
    "has none as %s with a reading that is off and a mistake in the netlist",
    async (_, options) => {
      const page = await ready(await open(options));
      await page.getByLabel("reading at T1 collector, volts").fill("0.4");
      await typeAtEnd(page, MISTAKE);
      await page.keyboard.press("Escape");
      await page.waitForSelector(".remark-line.error");
      expect(await barriers(page)).toEqual([]);
    },
  );

  // 640 is a window of 1280 at 200 %
  it.each([320, 400, 640, 768])("shows everything within a width of %i", async (width) => {
    const page = await ready(await open({ viewport: { width, height: 900 } }));
    await typeAtEnd(page, MISTAKE);
    await page.waitForSelector(".remark-line.error");
    const over = () => document.documentElement.scrollWidth - document.documentElement.clientWidth;
    expect(await page.evaluate(over)).toBeLessThanOrEqual(0);
    expect(await beyondTheEdge(page)).toEqual([]);
  });

  it("reaches every control by Tab alone, and shows where one is", async () => {
    const page = await ready(await open());
    // while something is worked out there is a word to give it up
    await page.waitForFunction(() =>
      [...document.querySelectorAll(".worked")].every((each) => each.textContent === ""),
    );
    const count = await page.evaluate(() => {
      // a figure is reached from the field beside it, by an arrow
      const all =
        "a[href], button:not(:disabled, .figure), input:not(:disabled), select, textarea, summary, [tabindex='0']";
      const seen = [...document.querySelectorAll<HTMLElement>(all)].filter((each) => each.checkVisibility());
      // of radio buttons with one name Tab reaches one; the editor is one stop more
      const radios = seen.filter((each) => each instanceof HTMLInputElement && each.type === "radio");
      const groups = new Set(radios.map((each) => (each as HTMLInputElement).name));
      return seen.length - radios.length + groups.size + 1;
    });
    const reached = new Set<string>();
    const unseen: string[] = [];
    await page.evaluate(() => window.scrollTo(0, 0));
    for (let k = 0; k < count; k++) {
      await page.keyboard.press("Tab");
      const { place, outlined } = await page.evaluate(() => {
        const host = document.activeElement!;
        const now = host.shadowRoot?.activeElement ?? host;
        const own = [now, now.closest(".cm-editor"), now.closest("label")];
        const every = [...document.querySelectorAll("*")];
        return {
          place: `${every.indexOf(host)} ${host.outerHTML.slice(0, 80)}`,
          outlined:
            own.some((each) => each !== null && getComputedStyle(each).outlineStyle !== "none") ||
            [...(now.closest("label")?.children ?? [])].some(
              (each) => getComputedStyle(each).outlineStyle !== "none",
            ),
        };
      });
      reached.add(place);
      if (!outlined) unseen.push(place);
    }
    expect(reached.size).toBe(count);
    expect(unseen).toEqual([]);
  });

  it("keeps still for those who asked for less motion", async () => {
    const page = await ready(await open({ reducedMotion: "reduce" }));
    expect(await page.evaluate(() => getComputedStyle(document.documentElement).scrollBehavior)).toBe("auto");
    await page.locator("#set-P2-setting").fill("0.7");
    expect(await page.evaluate(() => document.getAnimations().length)).toBe(0);
  });

  it("prints to paper: the chart and the plot, without controls and without the editor", async () => {
    const page = await ready(await open({ viewport: { width: 690, height: 1000 } }));
    await page.emulateMedia({ media: "print" });
    await page.screenshot({ path: picture("print.png"), fullPage: true });
    const pdf = await page.pdf({ path: picture("print.pdf"), format: "A4", preferCSSPageSize: true });
    // two pages with this browser's fonts: chart and response, stages and cautions
    const pages = pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length;
    expect([1, 2, 3]).toContain(pages);
    for (const shown of [".chart", ".bode svg"]) {
      expect(await page.locator(shown).first().isVisible(), shown).toBe(true);
    }
    for (const hidden of [
      ".editor",
      "nav",
      ".hint",
      ".keeping",
      ".back-and-forth",
      "input[type=range]",
      "#substitutes",
    ]) {
      expect(await page.locator(hidden).first().isVisible(), hidden).toBe(false);
    }
    expect(await page.evaluate(() => getComputedStyle(document.body).backgroundColor)).toBe(
      "rgb(255, 255, 255)",
    );
    expect(await beyondTheEdge(page)).toEqual([]);
  });
});

describe("what a figure says", () => {
  it("is compared as far as its digits go", () => {
    expect(says("T1 emitter −1.43", -1.4349)).toBe(true);
    expect(says("T1 emitter −1.43", -1.4351)).toBe(false);
    expect(says("T1 current 0.87mA", 0.8651)).toBe(true);
    expect(says("open", 0)).toBe(false);
  });
});
