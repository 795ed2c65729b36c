/** The whole sheet: title, contents line, sections. */

import { Heading } from "./heading.tsx";
import { FileLine } from "./keep/file-line.tsx";
import { SECTIONS } from "./sections/index.ts";
import { SheetSection } from "./sheet-section.tsx";
import { announcement } from "./state/hand.ts";
import { UndoKeys } from "./undo-keys.tsx";

export function SheetPage() {
  return (
    <>
      <a class="skip" href="#voltages">
        to the voltages
      </a>
      <Heading>
        <FileLine />
      </Heading>
      <main>
        {SECTIONS.map((section, i) => (
          <SheetSection key={section.id} section={section} number={i + 1} />
        ))}
      </main>
      <p class="unseen" role="status" aria-live="polite">
        {announcement}
      </p>
      <UndoKeys />
    </>
  );
}
