/** What a test looks for on a page: what does not fit, what stands in motion, and what a figure says. */
import { mkdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import axe from "axe-core";
import type { Locator, Page } from "playwright-core";

const folder = fileURLToPath(new URL("screenshots", import.meta.url));

/** Where a picture for review goes. */
export function picture(name: string): string {
  mkdirSync(folder, { recursive: true });
  return `${folder}/${name}`;
}

/** What axe finds serious or critical, a line each. */
export async function barriers(page: Page): Promise<readonly string[]> {
  await page.evaluate(axe.source);
  const { violations } = await page.evaluate(() => (window as unknown as { axe: typeof axe }).axe.run());
  return violations
    .filter(({ impact }) => impact === "serious" || impact === "critical")
    .map(({ id, nodes }) => `${id}: ${nodes.map(({ target, html }) => `${target} ${html}`).join("; ")}`);
}

/**
 * Elements that reach beyond the right edge of the window and do not lie in something that scrolls by itself. The
 * width of the page alone says nothing where the page cuts off what does not fit.
 */
export const beyondTheEdge = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() => {
    const edge = document.documentElement.clientWidth + 1;
    const scrolls = (element: Element | null): boolean =>
      element !== null &&
      element !== document.body &&
      (getComputedStyle(element).overflowX !== "visible" || scrolls(element.parentElement));
    return [...document.body.querySelectorAll("*")]
      .filter((element) => element.getBoundingClientRect().right > edge && element.checkVisibility())
      .filter((element) => !scrolls(element))
      .map((element) => element.outerHTML.slice(0, 120));
  });

/** The number at the end of what a figure says, its unit aside; undefined where there is none. */
export function figureIn(
  text: string | null,
): { readonly value: number; readonly digit: number } | undefined {
  const [, digits] = /([−-]?\d+(?:\.\d+)?)[\s\u2009]*[^\d\s]*$/.exec(text ?? "") ?? [];
  if (digits === undefined) return undefined;
  const decimals = digits.split(".")[1]?.length ?? 0;
  return { value: Number(digits.replace("−", "-")), digit: 10 ** -decimals };
}

/** Whether a figure says this value, as far as its digits go. */
export function says(text: string | null, value: number): boolean {
  const figure = figureIn(text);
  return figure !== undefined && Math.abs(figure.value - value) <= 0.5000001 * figure.digit;
}

export const plainSpace = (text: string): string => text.replaceAll("\u00a0", " ");

/** The text in an element, every blank a plain one. */
export const textIn = async (place: Locator): Promise<string> =>
  plainSpace((await place.textContent()) ?? "");
