// npm run bench:page: how long the page takes in a browser, from a movement of the mouse that drags a slider to the
// picture with the new chart and curves, and from opening the file to the first picture with the circuit solved.
// A page built elsewhere can be named behind it.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { chromium } from "playwright-core";
import { buildPage } from "../build-page.mjs";

const executablePath = process.env.CHROMIUM || "/usr/bin/chromium";
/** Trimmer, volume, battery, ambient. */
const DRAGGED = ["set-P2-setting", "set-P1-setting", "set-B1-emf", "ambient"];
/** Movements of each; fewer for a look, `EVENTS=40`. */
const EVENTS = Number(process.env.EVENTS || 200);
const WARM_UP = 20;
const OPENINGS = 7;
/** What is demanded, ms. */
const WANTED = { median: 16, late: 33, first: 1000 };

/**
 * In the page, before its own script: notes for each movement that moves a slider when it happened, when the page
 * got it, and when its picture was done (a message sent from the frame is received after the frame is painted); and
 * when the first chart was painted.
 */
function watch() {
  const record = { moves: [], first: undefined };
  globalThis.latencies = record;
  const afterPaint = (act) =>
    requestAnimationFrame(() => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = () => act(performance.now());
      port2.postMessage(0);
    });
  let happened = 0;
  const onMove = ({ timeStamp }) => {
    happened = timeStamp;
  };
  addEventListener("pointermove", onMove, { capture: true });
  const onInput = () => {
    const [at, handed] = [happened, performance.now()];
    afterPaint((painted) => record.moves.push({ whole: painted - at, own: painted - handed }));
  };
  addEventListener("input", onInput, { capture: true });
  const observer = new MutationObserver(() => {
    if (document.querySelector(".chart .figure") === null) return;
    observer.disconnect();
    afterPaint((painted) => {
      record.first = painted;
    });
  });
  observer.observe(document, { childList: true, subtree: true });
}

function quantile(values, share) {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
}

async function firstPicture(browser, url) {
  const page = await (await browser.newContext({ viewport: { width: 1200, height: 900 } })).newPage();
  await page.addInitScript(watch);
  await page.goto(url);
  await page.waitForFunction(() => globalThis.latencies.first !== undefined);
  const first = await page.evaluate(() => globalThis.latencies.first);
  await page.context().close();
  return first;
}

/** Processor time of the page's main thread so far, ms: what a busy machine does not add to. */
async function busy(session) {
  const { metrics } = await session.send("Performance.getMetrics");
  const of = (name) => 1e3 * (metrics.find((each) => each.name === name)?.value ?? 0);
  return ["TaskDuration", "ScriptDuration", "LayoutDuration", "RecalcStyleDuration"].map(of);
}

/** Drags a slider to and fro; each of its movements in ms, from when it happened and from when the page got it. */
async function drag(page, id) {
  const slider = page.locator(`[id="${id}"]`);
  await slider.scrollIntoViewIfNeeded();
  const { x, y, width, height } = await slider.boundingBox();
  const to = (share) => page.mouse.move(x + share * width, y + height / 2);
  await to(0.5);
  await page.mouse.down();
  for (let k = 0; ; k++) {
    await to(0.15 + 0.7 * Math.abs(1 - ((k % 40) + 0.5) / 20));
    await page.waitForTimeout(20);
    const done = await page.evaluate(() => globalThis.latencies.moves.length);
    if (done >= EVENTS + WARM_UP) break;
    if (k > 4 * (EVENTS + WARM_UP)) throw new Error(`${id} does not move`);
  }
  await page.mouse.up();
  const moves = await page.evaluate(() => globalThis.latencies.moves.splice(0));
  return moves.slice(WARM_UP, WARM_UP + EVENTS);
}

function line(cells) {
  console.log(cells.map((cell, k) => (k === 0 ? cell.padEnd(34) : cell.padStart(10))).join(""));
}

const ms = (value) => value.toFixed(1);
const verdict = (found, wanted) => `${found <= wanted ? "kept" : "MISSED"}: wanted ${wanted} ms`;

async function measure(url, browser) {
  line(["", "least", "median", "95 %"]);
  const first = [];
  for (let k = 0; k < OPENINGS; k++) first.push(await firstPicture(browser, url));
  line(["first picture, circuit solved", ...[0, 0.5, 0.95].map((share) => ms(quantile(first, share)))]);
  const page = await browser.newPage({ viewport: { width: 1200, height: 900 } });
  await page.addInitScript(watch);
  await page.goto(url);
  await page.waitForSelector(".chart");
  const session = await page.context().newCDPSession(page);
  await session.send("Performance.enable", { timeDomain: "threadTicks" });
  await page.waitForTimeout(3000);
  const all = [];
  for (const id of DRAGGED) {
    const before = await busy(session);
    const moves = await drag(page, id);
    const spent = (await busy(session)).map((value, k) => (value - before[k]) / (EVENTS + WARM_UP));
    all.push(...moves);
    for (const [key, words] of Object.entries({ whole: "movement to picture", own: "of it in the page" })) {
      const times = moves.map((move) => move[key]);
      line([`${id}, ${words}`, ...[0, 0.5, 0.95].map((share) => ms(quantile(times, share)))]);
    }
    console.log(
      `${id}: processor ${ms(spent[0])} ms a movement, script, layout, style ${spent.slice(1).map(ms)}`,
    );
    await page.waitForTimeout(500);
  }
  const whole = all.map((move) => move.whole);
  console.log(`\nmedian ${ms(quantile(whole, 0.5))} ms, ${verdict(quantile(whole, 0.5), WANTED.median)}`);
  console.log(`95 % within ${ms(quantile(whole, 0.95))} ms, ${verdict(quantile(whole, 0.95), WANTED.late)}`);
  console.log(`first picture ${ms(quantile(first, 0.5))} ms, ${verdict(quantile(first, 0.5), WANTED.first)}`);
}

const folder = mkdtempSync(join(tmpdir(), "preprobe-latency-"));
const built = process.argv[2] ?? join(folder, "preprobe.html");
if (process.argv[2] === undefined) await buildPage(built);
const browser = await chromium.launch({
  executablePath,
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"],
});
try {
  await measure(pathToFileURL(built).href, browser);
} finally {
  await browser.close();
  rmSync(folder, { recursive: true });
}
