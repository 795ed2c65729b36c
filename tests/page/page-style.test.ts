import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { PAGE_STYLE } from "../../src/report/page-style.ts";

const style = readFileSync(new URL("../../src/page/style.css", import.meta.url), "utf8");
const coloursIn = (text: string) =>
  [...text.matchAll(/--(paper|ink|rule|faint|accent): (#\w+)/g)].map(
    ([, name, colour]) => `${name} ${colour}`,
  );

it("The sheet on the screen and the printed report have the same paper, ink, rules and accent", () => {
  expect(coloursIn(style)).toEqual(coloursIn(PAGE_STYLE));
});
