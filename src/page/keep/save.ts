/** Files that the page gives out. */
import frame from "../page.html";
import { sheet } from "../state/store.ts";
import { type PageParts, pageText } from "./sheet-page-text.ts";

let parts: PageParts = { frame, policy: "", style: "", script: "" };

/** Looks at what the page is made of, while its script runs and nothing has been added to it. */
export function usePage(page: Document): void {
  const policy =
    page.querySelector("meta[http-equiv=Content-Security-Policy]")?.getAttribute("content") ?? "";
  const style = page.querySelector("style")?.textContent ?? "";
  parts = { frame, policy, style, script: page.currentScript?.textContent ?? "" };
}

/** A name for a file, made of that of the netlist: letters, digits, dots and hyphens. */
export function fileName(main: string, ending: string): string {
  const stem = main
    .replace(/^.*[/\\]/, "")
    .replace(/\.[^.]*$/, "")
    .replace(/[^\p{L}\p{N}.-]+/gu, "-")
    .replace(/^[-.]+|[-.]+$/g, "")
    .slice(0, 80);
  return `${stem === "" ? "sheet" : stem}${ending}`;
}

/** Longer than any browser needs to begin with a download, ms. */
const A_WHILE = 60_000;

export function download(name: string, type: string, text: string): void {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), A_WHILE);
}

/** The page with the sheet in it as it is now, as one file. */
export function saveSheet(): void {
  const now = sheet.peek();
  download(fileName(now.main, ".html"), "text/html", pageText(parts, now));
}
