// Measures in a browser how long the page takes from an input event of a slider to the picture with the new chart and
// curves, and how long until the first one: node scripts/page-latency.mjs [PAGE.html]. Build the page first.
import { fileURLToPath, pathToFileURL } from "node:url";
import { chromium } from "playwright-core";

const file = process.argv[2] ?? fileURLToPath(new URL("../dist/preprobe.html", import.meta.url));
const executablePath = process.env.CHROMIUM ?? "/usr/bin/chromium";
const DRAGGED = ["set-B1-emf", "set-P2-setting", "set-P1-setting", "ambient"];
const EVENTS = 200;
const WARM_UP = 20;

/**
 * In the page: moves a slider and notes, for each event, the time from the frame that the event belongs to (a browser
 * hands input over at its beginning) until after its picture. The event itself is counted in.
 */
async function drag({ id, events }) {
  const slider = document.getElementById(id);
  const [least, greatest] = [Number(slider.min), Number(slider.max)];
  const afterPaint = () =>
    new Promise((resolve) => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = resolve;
      requestAnimationFrame(() => port2.postMessage(0));
    });
  const times = [];
  slider.dispatchEvent(new PointerEvent("pointerdown", { bubbles: true }));
  for (let k = 0; k < events; k++) {
    await new Promise((resolve) => setTimeout(resolve, 25));
    const before = performance.now();
    slider.value = String(least + (0.2 + (0.6 * (k % 50)) / 50) * (greatest - least));
    slider.dispatchEvent(new Event("input", { bubbles: true }));
    const handled = performance.now() - before;
    let frame = 0;
    requestAnimationFrame((start) => {
      frame = Math.max(start, before + handled);
    });
    await afterPaint();
    times.push(handled + performance.now() - frame);
  }
  slider.dispatchEvent(new PointerEvent("pointerup", { bubbles: true }));
  return times;
}

function quantile(sorted, share) {
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
}

const browser = await chromium.launch({ executablePath, args: ["--no-sandbox", "--disable-gpu"] });
const page = await browser.newPage({ viewport: { width: 1200, height: 900 } });
const first = [];
for (let k = 0; k < 5; k++) {
  await page.goto(pathToFileURL(file).href);
  await page.waitForSelector(".chart");
  await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve))));
  first.push(await page.evaluate(() => performance.getEntriesByName("first-contentful-paint")[0].startTime));
}
console.log(
  `first picture, the circuit solved: ${Math.min(...first).toFixed(0)} ms (least of ${first.length})`,
);
await page.waitForTimeout(2000);
for (const id of DRAGGED) {
  if ((await page.locator(`[id="${id}"]`).count()) === 0) continue;
  const times = (await page.evaluate(drag, { id, events: EVENTS + WARM_UP }))
    .slice(WARM_UP)
    .sort((a, b) => a - b);
  const [least, median, late] = [0, 0.5, 0.95].map((share) => quantile(times, share).toFixed(1));
  console.log(
    `${id}: median ${median} ms, 95 % within ${late} ms, least ${least} ms, of ${times.length} events`,
  );
}
await browser.close();
