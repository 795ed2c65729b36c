/** A numbered section that folds to its title. */
import { useComputed } from "@preact/signals";
import type { Section } from "./sections/section.ts";
import { dispatch, sheet } from "./state/store.ts";

export function SheetSection({ section, number }: { section: Section; number: number }) {
  const { id, title, Content } = section;
  const folded = useComputed(() => sheet.value.folded.includes(id));
  const turn = () => dispatch({ kind: "fold", id, folded: !folded.value });
  return (
    <section id={id} class={folded.value ? "folded" : ""} aria-labelledby={`${id}-title`}>
      <h2 id={`${id}-title`}>
        <button type="button" aria-expanded={!folded.value} aria-controls={`${id}-content`} onClick={turn}>
          <b>{number}</b>
          {title}
        </button>
      </h2>
      <div id={`${id}-content`} hidden={folded.value}>
        {folded.value ? null : <Content />}
      </div>
    </section>
  );
}
