/** A drawing of the report on the sheet: its title left off, its inks those of the sheet. */
import { useEffect, useRef } from "preact/hooks";
import { ACCENT, PAPER } from "../../report/drawing.ts";

/** Inks of the printed report, and what they are on the sheet, which is dark at night. */
const INKS: Readonly<Record<string, string>> = {
  [PAPER.toLowerCase()]: "none",
  [ACCENT.toLowerCase()]: "var(--accent)",
  "#0072b2": "var(--blue)",
  "#009e73": "var(--green)",
  "#d55e00": "var(--ochre)",
  "#cc79a7": "var(--pink)",
};

/** What a drawing with an empty title leaves free at its top, and each line beneath the title, units. */
const EMPTY_HEAD = 33;
const HEAD_LINE = 15;

function inked(element: SVGElement): void {
  for (const key of ["fill", "stroke"] as const) {
    const ink = INKS[element.getAttribute(key)?.toLowerCase() ?? ""];
    if (ink !== undefined) element.style.setProperty(key, ink);
  }
}

/** The text of a drawing as an element; undefined if it is no SVG. */
function adopted(text: string, title: string, headLines: number): Element | undefined {
  const root = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  if (root.localName !== "svg" || root.querySelector("parsererror") !== null) return undefined;
  const [, , width = 0, height = 0] = (root.getAttribute("viewBox") ?? "").split(" ").map(Number);
  const head = EMPTY_HEAD + HEAD_LINE * headLines;
  root.setAttribute("viewBox", `0 ${head} ${width} ${height - head}`);
  for (const name of ["width", "height", "color", "font-family"]) root.removeAttribute(name);
  for (const line of root.querySelectorAll(":scope > text, :scope > g > text"))
    if (Number(line.getAttribute("y")) <= head) line.remove();
  const named = root.querySelector("title");
  if (named !== null) named.textContent = title;
  for (const element of root.querySelectorAll<SVGElement>("[fill], [stroke]")) inked(element);
  return document.importNode(root, true);
}

/** What scrolls by itself is reached by the keyboard as well, unless what holds it is. */
function reachable(place: HTMLElement, title: string): void {
  if (place.closest("[tabindex]") !== null || place.scrollWidth <= place.clientWidth) return;
  place.tabIndex = 0;
  place.setAttribute("role", "region");
  place.setAttribute("aria-label", title);
}

interface DrawingProps {
  /** A whole SVG document, made with an empty title and without conditions. */
  readonly text: string;
  /** What it shows, for those who do not see it. */
  readonly title: string;
  /** Lines beneath its title, which are left off with it. */
  readonly headLines?: number;
}

export function Drawing({ text, title, headLines = 0 }: DrawingProps) {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const drawn = adopted(text, title, headLines);
    place.current?.replaceChildren(...(drawn === undefined ? [] : [drawn]));
    if (place.current !== null) reachable(place.current, title);
  }, [text, title, headLines]);
  return <div ref={place} class="drawing" />;
}
