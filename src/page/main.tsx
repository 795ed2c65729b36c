/** The page's one script: the sheet in a page, and in a worker the hands that work for it. */
import { render } from "preact";
import { startSolving } from "./compute/live.ts";
import { startSuspecting } from "./compute/suspected.ts";
import { sheetText } from "./first-sheet.ts";
import { sheetToBegin, startKeeping } from "./keep/keeper.ts";
import { usePage } from "./keep/save.ts";
import { useScript } from "./long-work/follow.ts";
import { serveJobs } from "./long-work/serve.ts";
import { SheetPage } from "./sheet-page.tsx";
import { startWith } from "./state/store.ts";

function startPage(): void {
  useScript(document.currentScript?.textContent ?? "");
  usePage(document);
  startWith(sheetToBegin(sheetText(document)));
  startSolving();
  startSuspecting();
  startKeeping();
  const place = document.getElementById("sheet");
  if (place !== null) render(<SheetPage />, place);
}

if (typeof document === "undefined") serveJobs(self);
else startPage();
