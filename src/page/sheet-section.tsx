/** A numbered section that folds to its title. */
import { useComputed } from "@preact/signals";
import { errors } from "./compute/netlist.ts";
import type { Section } from "./sections/section.ts";
import { dispatch, sheet } from "./state/store.ts";

/** These are as they are, whatever the netlist says. */
const ALWAYS_TRUE = new Set(["conditions", "netlist", "cautions"]);

export function SheetSection({ section, number }: { section: Section; number: number }) {
  const { id, title, Content } = section;
  const folded = useComputed(() => sheet.value.folded.includes(id));
  const lastGood = useComputed(() => errors.value.length > 0 && !ALWAYS_TRUE.has(id));
  const turn = () => dispatch({ kind: "fold", id, folded: !folded.value });
  return (
    <section id={id} class={folded.value ? "folded" : ""} aria-labelledby={`${id}-title`}>
      <h2 id={`${id}-title`}>
        <button type="button" aria-expanded={!folded.value} aria-controls={`${id}-content`} onClick={turn}>
          <b>{number}</b>
          {title}
          {lastGood.value ? <span class="good-state">the last good state</span> : null}
        </button>
      </h2>
      <div id={`${id}-content`} class={lastGood.value ? "last-good" : ""} hidden={folded.value}>
        {folded.value ? null : <Content />}
      </div>
    </section>
  );
}
