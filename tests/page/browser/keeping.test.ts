import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { DEMOS } from "../../../src/page/demos.ts";
import { STAGE } from "../../cli/desk.ts";
import { describeInBrowser } from "./browser.ts";

const RECORDER = DEMOS["recorder.netlist"]!;
const EVIL = `<img src=x onerror="document.title='caught'"></script><script>document.title='caught'</script><!-- %SCRIPT% $&`;

const opened = async (page: Page) => page.waitForSelector(".chart");
const field = (page: Page, point: string) => page.getByLabel(`reading at ${point}, volts`);

const asFile = (name: string, text: string) => ({ name, mimeType: "", buffer: Buffer.from(text) });
const give = (page: Page, ...files: ReturnType<typeof asFile>[]) =>
  page.locator("#open-file").setInputFiles(files);

/** What the page hands out after `act`: its name, and where it lies now. */
async function handedOut(page: Page, folder: string, act: () => Promise<unknown>) {
  const [download] = await Promise.all([page.waitForEvent("download"), act()]);
  const file = join(folder, `${Math.random()}-${download.suggestedFilename()}`);
  await download.saveAs(file);
  return { name: download.suggestedFilename(), file, text: readFileSync(file, "utf8") };
}

const save = (page: Page, folder: string) =>
  handedOut(page, folder, () => page.getByRole("button", { name: "Save sheet" }).click());

/** Types, turns and folds something of every kind that is kept. */
async function workOn(page: Page): Promise<string> {
  await opened(page);
  await field(page, "T1 collector").fill("0.4");
  await page.getByLabel("notes").fill(EVIL);
  await page.locator("#meter").fill("20 kΩ/V");
  await page.locator("#set-P2-setting").focus();
  for (let k = 0; k < 5; k++) await page.keyboard.press("ArrowRight");
  await page.getByRole("button", { name: /Cautions/ }).click();
  return page.locator("#set-P2-setting").inputValue();
}

/** All of it is there, and the trimmer where it was left. */
async function expectWork(page: Page, setting: string): Promise<void> {
  await opened(page);
  expect(await field(page, "T1 collector").inputValue()).toBe("−0.4");
  expect(await page.getByLabel("notes").inputValue()).toBe(EVIL);
  expect(await page.locator("#meter").inputValue()).toBe("20 kΩ/V");
  expect(await page.locator("#set-P2-setting").inputValue()).toBe(setting);
  expect(await page.locator("#cautions").getAttribute("class")).toContain("folded");
}

describeInBrowser("suspects on the page", ({ open }) => {
  it("name the part that explains a wrong reading, and the point to measure next, to which Enter goes", async () => {
    const page = await open();
    await opened(page);
    expect(await page.locator(".next button").count()).toBe(0);
    await field(page, "T1 collector").fill("0.4");
    await field(page, "T1 emitter").fill("0.3");
    await expect
      .poll(() => page.locator(".suspects .fault").first().textContent(), { timeout: 30_000 })
      .toMatch(/\d\d.% R7 open/);
    const next = await page.locator(".next").first().textContent();
    expect(next).toMatch(/^Measure next: \S+.*, in play$/);
    await field(page, "T1 emitter").press("Enter");
    const point = /next: (.*), in/.exec(next!)![1]!;
    await expect
      .poll(() => page.evaluate(() => document.activeElement?.getAttribute("aria-label")))
      .toBe(`reading at ${point}, volts`);
  });

  it("point out at once a reading that cannot be, and leave it out", async () => {
    const page = await open();
    await opened(page);
    await field(page, "T2 collector").fill("99");
    await expect.poll(() => page.locator("#suspects .problems").textContent()).toContain("beyond the supply");
    expect(await page.locator(".next button").count()).toBe(0);
  });

  it("take down what has no field in the chart, and take it off again", async () => {
    const page = await open();
    await opened(page);
    const other = page.getByLabel("Something else you measured");
    await other.fill("B1 current = 12");
    await other.press("Enter");
    await expect.poll(() => page.locator("#other-problem").textContent()).toContain("has no unit");
    await other.fill("B1 current = 12 mA");
    await other.press("Enter");
    await expect
      .poll(() => page.locator(".other-readings").textContent())
      .toContain("play: B1 current 12 mA");
    await page.locator(".other-readings").getByRole("button", { name: "take it off" }).click();
    await expect.poll(() => page.locator(".other-readings").textContent()).not.toContain("12 mA");
  });
});

describeInBrowser("what is done on the page", ({ open, folder }) => {
  it("is there after a reload, with what can be taken back; and in a new window", async () => {
    const page = await open();
    const left = await workOn(page);
    await page.reload();
    await expectWork(page, left);
    // five steps of the trimmer, then what was typed for the meter
    for (let k = 0; k < 6; k++) await page.keyboard.press("Control+z");
    await expect.poll(() => page.locator("#meter").inputValue()).toBe("");
    for (let k = 0; k < 6; k++) await page.getByRole("button", { name: "redo" }).click();
    await page.reload();
    await expectWork(page, left);
    const again = await page.context().newPage();
    await again.goto(page.url());
    await expectWork(again, left);
  });

  it("is saved as a file that opens exactly as it was, and saves itself again to the letter", async () => {
    const page = await open();
    const left = await workOn(page);
    const saved = await save(page, folder);
    expect(saved.name).toBe("recorder.html");
    const other = await open({ file: saved.file });
    await expectWork(other, left);
    expect(await other.title()).not.toBe("caught");
    await expect.poll(() => other.locator(".band").first().textContent(), { timeout: 30_000 }).toContain("…");
    const dataIn = (text: string) => text.replace(/,"origin":"[^"]*"/g, "").replace(/"origin":"[^"]*",/g, "");
    expect(dataIn((await save(other, folder)).text)).toBe(dataIn(saved.text));
  });

  it("is opened from a saved sheet by the file chooser, and comes back after a look at another circuit", async () => {
    const page = await open();
    const left = await workOn(page);
    const saved = await save(page, folder);
    const other = await open();
    await opened(other);
    await give(other, asFile("saved.html", saved.text));
    await expect.poll(() => field(other, "T1 collector").inputValue()).toBe("−0.4");
    await expectWork(other, left);
    await give(other, asFile("one.netlist", STAGE));
    await expect.poll(() => other.locator("h1").textContent()).toContain("one stage");
    await other.reload();
    await opened(other);
    expect(await other.locator("h1").textContent()).toContain("one stage");
    const title = await other.locator("#kept option").nth(1).textContent();
    await other.locator("#kept").selectOption({ label: title! });
    await expectWork(other, left);
  });

  it("comes back by undoing what was opened in its place", async () => {
    const page = await open();
    const left = await workOn(page);
    await page.locator("#demos").selectOption("twin-t.netlist");
    await expect.poll(() => page.locator("h1").textContent()).not.toContain("LINDEN");
    await page.getByRole("button", { name: "undo" }).click();
    await expectWork(page, left);
  });

  it("is there after a crash of the tab in the middle of typing", async () => {
    const page = await open();
    await opened(page);
    const typed = "heard a hum at 50 Hz ";
    await page.getByLabel("notes").focus();
    for (let k = 0; k < 4; k++) await page.keyboard.type(typed, { delay: 10 });
    // of what was typed a moment before, the browser knows already
    const kept = () =>
      page.evaluate(() =>
        Object.keys(localStorage)
          .map((key) => localStorage.getItem(key))
          .join(),
      );
    await expect.poll(kept).toContain(typed.repeat(4));
    const context = page.context();
    const crash = new Promise((resolve) => page.once("crash", resolve));
    page.goto("chrome://crash").catch(() => {});
    await crash;
    const again = await context.newPage();
    await again.goto(page.url());
    await opened(again);
    expect(await again.getByLabel("notes").inputValue()).toBe(typed.repeat(4));
  });

  it("is written down while typing goes on without a pause, and not while a control is held", async () => {
    const page = await open();
    await opened(page);
    await page.evaluate(() => {
      const own = window as unknown as { written: number };
      own.written = 0;
      const write = Storage.prototype.setItem;
      Storage.prototype.setItem = function (key: string, value: string) {
        if (key.startsWith("preprobe/1 sheet")) own.written++;
        write.call(this, key, value);
      };
    });
    const written = () => page.evaluate(() => (window as unknown as { written: number }).written);
    const slider = page.locator("#set-P2-setting");
    await slider.scrollIntoViewIfNeeded();
    const box = (await slider.boundingBox())!;
    const y = box.y + box.height / 2;
    await page.mouse.move(box.x + 0.4 * box.width, y);
    await page.mouse.down();
    for (let k = 0; k < 40; k++) {
      await page.mouse.move(box.x + (0.4 + 0.01 * k) * box.width, y);
      await page.waitForTimeout(25);
    }
    expect(await written()).toBe(0);
    await page.mouse.up();
    await expect.poll(written).toBe(1);
    await page.getByLabel("notes").focus();
    let typed = 0;
    for (; typed < 400 && (await written()) === 1; typed++) await page.keyboard.type("x", { delay: 20 });
    expect(typed).toBeLessThan(400);
  });

  it("is deleted when it is asked for, and brought back whole, after a reload as well", async () => {
    const page = await open();
    const left = await workOn(page);
    await give(page, asFile("one.netlist", STAGE));
    await expect.poll(() => page.locator("h1").textContent()).toContain("one stage");
    const options = () => page.locator("#kept option").allTextContents();
    await expect.poll(options).toHaveLength(3);
    const [, , remove] = await options();
    expect(remove).toMatch(/^delete LINDEN 4/);
    await page.locator("#kept").selectOption({ label: remove! });
    await expect.poll(() => page.locator("#kept").count()).toBe(0);
    expect(await page.locator(".keeping").textContent()).toContain("LINDEN 4");
    await page.reload();
    await opened(page);
    await page.getByRole("button", { name: "bring it back" }).click();
    await expect.poll(options).toHaveLength(3);
    expect(await page.getByRole("button", { name: "bring it back" }).count()).toBe(0);
    const [, back] = await options();
    await page.locator("#kept").selectOption({ label: back! });
    await expectWork(page, left);
  });

  it("survives damaged storage: the page opens with the demonstration", async () => {
    const page = await open();
    await workOn(page);
    await page.waitForTimeout(600);
    await page.evaluate(() => {
      for (const key of Object.keys(localStorage)) localStorage.setItem(key, '[["\u0001"],{"version":1,');
    });
    // what leaves writes once more: a window that has not seen the sheet
    const again = await page.context().newPage();
    await again.goto(page.url());
    await opened(again);
    expect(await field(again, "T1 collector").inputValue()).toBe("");
  });

  it("is told of another window in which the same sheet was changed", async () => {
    const page = await open();
    await opened(page);
    const other = await page.context().newPage();
    await other.goto(page.url());
    await opened(other);
    await field(other, "T1 collector").fill("1");
    await expect.poll(() => page.locator(".kept-problem").textContent()).toContain("another window");
  });

  it("is said not to be kept where the browser keeps nothing", async () => {
    const page = await open();
    await opened(page);
    await page.evaluate(() => {
      Storage.prototype.setItem = () => {
        throw new DOMException("full", "QuotaExceededError");
      };
    });
    await field(page, "T1 collector").fill("0.4");
    await expect.poll(() => page.locator(".kept-problem").textContent()).toContain("keeps nothing more");
  });
});

describeInBrowser("the print", ({ open }) => {
  it("on A4 holds chart, response, suspects and conditions, and nothing for the hand", async () => {
    const page = await open();
    await opened(page);
    await page.emulateMedia({ media: "print" });
    const shown = (selector: string) => page.locator(selector).first().isVisible();
    for (const selector of [".chart", ".bode", "#conditions", ".title .date", ".reading input"])
      expect([selector, await shown(selector)]).toEqual([selector, true]);
    for (const selector of [
      "nav",
      ".keeping",
      "input[type=range]",
      "#suspects",
      ".other-reading",
      "#netlist",
    ])
      expect([selector, await shown(selector)]).toEqual([selector, false]);
    await field(page, "T1 collector").evaluate((input: HTMLInputElement) => {
      input.value = "0.4";
      input.dispatchEvent(new Event("input", { bubbles: true }));
    });
    await expect.poll(() => shown(".suspects"), { timeout: 30_000 }).toBe(true);
    await field(page, "T1 collector").press("ArrowDown");
    await expect.poll(() => page.locator("#parts-of-figure").count()).toBe(1);
    expect(await shown("#parts-of-figure")).toBe(false);
    expect(await page.locator("#stages .for-the-hand").isVisible()).toBe(false);
    const pdf = await page.pdf({ preferCSSPageSize: true });
    const size = /MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)/.exec(pdf.toString("latin1"));
    // A4 in points of 1/72 inch (ISO 216: 210 mm by 297 mm)
    expect(Math.abs(Number(size?.[1]) - 595.28)).toBeLessThan(1);
    expect(Math.abs(Number(size?.[2]) - 841.89)).toBeLessThan(1);
  });
});

describeInBrowser("what is opened and given out", ({ open, folder }) => {
  const give_out = (page: Page, title: string) =>
    handedOut(page, folder, () => page.locator("#export").selectOption(title));

  it("takes readings in a table and a measured curve, and gives them out so that they are read again", async () => {
    const page = await open();
    await opened(page);
    await give(
      page,
      asFile("taken.csv", "point;play: reading, V\nT1.c;-0,4\nT1.e;-0,3\nT99.c;1\n"),
      asFile("curve.csv", "hertz,db\n100,-3\n1000,0\n10000,-2\n"),
    );
    await expect.poll(() => field(page, "T1 emitter").inputValue()).toBe("−0,3");
    expect(await page.locator(".kept-problem").textContent()).toContain("T99");
    expect(await page.locator("#response").textContent()).toContain("curve.csv");
    for (const title of ["readings (CSV)", "worksheet with readings (.fods)"]) {
      const { name, text } = await give_out(page, title);
      const other = await open();
      await opened(other);
      await give(other, asFile(name, text));
      await expect.poll(() => field(other, "T1 collector").inputValue()).toBe("−0.4");
    }
  });

  it("takes a netlist that is dropped on it, and says so", async () => {
    const page = await open();
    await opened(page);
    await page.evaluate((text) => {
      const dataTransfer = new DataTransfer();
      dataTransfer.items.add(new File([text], "dropped.netlist"));
      document.body.dispatchEvent(new DragEvent("drop", { dataTransfer, bubbles: true, cancelable: true }));
    }, STAGE);
    await expect.poll(() => page.locator("h1").textContent()).toContain("one stage");
    expect(await page.locator(".keeping").textContent()).toContain("dropped.netlist opened");
  });

  it("gives out chart, response, drawing and netlist", async () => {
    const page = await open();
    await opened(page);
    expect((await give_out(page, "voltage chart (CSV)")).text).toMatch(/^name,quantity,play,record\n/);
    expect((await give_out(page, "response (CSV)")).text).toMatch(/^hertz,/);
    expect((await give_out(page, "response (SVG drawing)")).text).toMatch(/^<svg xmlns/);
    expect((await give_out(page, "netlist")).text).toBe(RECORDER);
  });

  it("takes nothing for markup, whatever titles, nets, tables and sheets hold", async () => {
    const page = await open();
    await opened(page);
    const netlist = STAGE.replace("one stage", EVIL.replaceAll('"', "'"));
    await give(page, asFile(`${EVIL.replaceAll("/", "")}.netlist`, netlist));
    await expect.poll(() => page.locator("h1").textContent()).toContain("<img src=x");
    await give(page, asFile("evil.csv", `point,play\n${EVIL},${EVIL}\n__proto__,1\nconstructor,2\n`));
    await expect.poll(() => page.locator(".kept-problem").textContent()).toContain("<img src=x");
    const hostile = {
      format: "preprobe-sheet/1",
      main: "__proto__",
      files: { ["__proto__"]: STAGE },
      readings: { constructor: { toString: EVIL }, play: { ["__proto__"]: EVIL, "T1.c": EVIL } },
      notes: EVIL,
      sections: { response: 5, netlist: null, stages: [], waveforms: "x", ["__proto__"]: { evil: true } },
      folded: [EVIL, 7],
      settings: { mode: EVIL, meter: EVIL, set: [{ part: EVIL, key: "__proto__", value: 1 }] },
    };
    const data = JSON.stringify(hostile).replaceAll("<", "\\u003c");
    const text = `<!doctype html><script>document.title="caught"</script><script type="application/json" id="sheet-data">${data}</script>`;
    await give(page, asFile("hostile.html", text));
    await expect.poll(() => page.getByLabel("notes").inputValue()).toBe(EVIL);
    expect(await page.locator("img").count()).toBe(0);
    expect(await page.title()).not.toBe("caught");
    expect(await page.evaluate(() => ({}) as { evil?: boolean }).then(({ evil }) => evil)).toBe(undefined);
    const saved = await save(page, folder);
    const again = await open({ file: saved.file });
    await opened(again);
    expect(await again.locator("img").count()).toBe(0);
    expect(await again.getByLabel("notes").inputValue()).toBe(EVIL);
    expect(await again.title()).not.toBe("caught");
  });

  it("refuses what is no file of this page, in words, and leaves the sheet as it was", async () => {
    const page = await open();
    await opened(page);
    const saved = (await save(page, folder)).text;
    const cut = saved.slice(0, saved.indexOf('id="sheet-data">') + 300);
    const WRONG: [string, string | Buffer, string][] = [
      ["page.html", "<!doctype html><p>hello", "holds no sheet"],
      ["cut.html", cut, "holds no sheet"],
      ["other.csv", "name,colour\nR1,red\n", "neither a measured curve"],
      ["volts.csv", "point,voltage\nT1.c,3\n", "no column holds readings"],
      ["picture.png", Buffer.from("iVBORw0KGgoAAAANSUhEUgAAAAEAAAAB", "base64"), "is not text"],
      ["large.netlist", "#".repeat(5_000_001), "larger than 5 MB"],
    ];
    for (const [name, text, words] of WRONG) {
      await page.locator("#open-file").setInputFiles({ name, mimeType: "", buffer: Buffer.from(text) });
      await expect.poll(() => page.locator(".kept-problem").textContent()).toContain(words);
      expect(await page.locator(".kept-problem").textContent()).toContain(name);
    }
    expect(await page.locator("h1").textContent()).toContain("LINDEN");
    await page.evaluate(() => {
      const dataTransfer = new DataTransfer();
      dataTransfer.items.add(
        new File([new Uint8Array([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10])], "drop.png"),
      );
      document.body.dispatchEvent(new DragEvent("drop", { dataTransfer, bubbles: true, cancelable: true }));
    });
    await expect.poll(() => page.locator(".kept-problem").textContent()).toContain("drop.png is not text");
  });

  it("takes a netlist of a megabyte, good or bad, and says what is wrong with it", async () => {
    const page = await open();
    await opened(page);
    const remarks = "# a remark, and nothing that would be a part\n".repeat(23_000);
    await give(page, asFile("long.netlist", `${STAGE}${remarks}`));
    await expect.poll(() => page.locator("h1").textContent(), { timeout: 30_000 }).toContain("one stage");
    await give(page, asFile("wrong.netlist", "lorem ipsum dolor sit amet\n".repeat(38_000)));
    const problems = () => page.locator("#netlist .problems").textContent();
    await expect.poll(problems, { timeout: 30_000 }).toContain('"lorem" is no kind of part');
    await page.getByRole("button", { name: "undo" }).click();
    await expect.poll(problems, { timeout: 30_000 }).not.toContain("lorem");
  });
});
