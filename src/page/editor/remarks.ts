/** What is wrong, in the text itself: the words marked, and a sentence beneath their line. */
import { type EditorState, type Range, StateEffect, StateField } from "@codemirror/state";
import { Decoration, type DecorationSet, EditorView, WidgetType } from "@codemirror/view";
import type { Diagnostic } from "../../circuit/diagnostic.ts";
import { withHint } from "../words.ts";
import { rangeOf } from "./places.ts";

/** Sentences beneath one line: more would push the line away. */
const MOST = 3;

class Sentence extends WidgetType {
  readonly #severity: Diagnostic["severity"];
  readonly #text: string;

  constructor(remark: Diagnostic) {
    super();
    this.#severity = remark.severity;
    this.#text = withHint(remark);
  }

  override eq(other: Sentence): boolean {
    return other.#text === this.#text && other.#severity === this.#severity;
  }

  toDOM(): HTMLElement {
    const line = document.createElement("div");
    line.className = `remark-line ${this.#severity}`;
    line.textContent = `${this.#severity === "error" ? "▲" : "·"} ${this.#text}`;
    return line;
  }

  override get estimatedHeight(): number {
    return 20;
  }
}

const put = StateEffect.define<readonly Diagnostic[]>();

function decorations(diagnostics: readonly Diagnostic[], { doc }: EditorState): DecorationSet {
  const beneath = new Map<number, number>();
  const marks = diagnostics.flatMap((diagnostic): Range<Decoration>[] => {
    const { from, to } = rangeOf(diagnostic, doc);
    const { to: end } = doc.lineAt(from);
    const count = (beneath.get(end) ?? 0) + 1;
    beneath.set(end, count);
    const mark =
      to > from ? [Decoration.mark({ class: `marked ${diagnostic.severity}` }).range(from, to)] : [];
    if (count > MOST) return mark;
    return [
      ...mark,
      Decoration.widget({ widget: new Sentence(diagnostic), block: true, side: 1 }).range(end),
    ];
  });
  return Decoration.set(marks, true);
}

/** Marks move with the text until new ones come. */
export const remarks = StateField.define<DecorationSet>({
  create: () => Decoration.none,
  update(marks, transaction) {
    const given = transaction.effects.find((effect) => effect.is(put));
    return given === undefined ? marks.map(transaction.changes) : decorations(given.value, transaction.state);
  },
  provide: (field) => EditorView.decorations.from(field),
});

/** Puts these remarks in place of those that stand. */
export const putRemarks = (diagnostics: readonly Diagnostic[]) => put.of(diagnostics);
