/** How the netlist looks: ink on paper, weight and slope instead of colours; the accent for errors only. */
import { HighlightStyle, syntaxHighlighting } from "@codemirror/language";
import { EditorView } from "@codemirror/view";
import { TAGS } from "./words.ts";

/** The system's own monospace. */
const MONOSPACE = 'ui-monospace, "SFMono-Regular", Menlo, Consolas, "DejaVu Sans Mono", monospace';

const theme = EditorView.theme({
  "&": { color: "var(--ink)", backgroundColor: "transparent", fontSize: ".8125rem" },
  "&.cm-focused, &:focus-within": { outline: "2px solid var(--ink)", outlineOffset: "4px" },
  ".cm-scroller": { fontFamily: MONOSPACE, lineHeight: "1.5", maxHeight: "38rem", overflow: "auto" },
  ".cm-content": { caretColor: "var(--ink)", padding: "0" },
  ".cm-line": { padding: "0 .4rem", textIndent: "-2rem", paddingLeft: "2.4rem" },
  ".cm-gutters": { color: "var(--faint)", backgroundColor: "transparent", border: "0" },
  ".cm-lineNumbers .cm-gutterElement": { minWidth: "2.2rem", padding: "0 .5rem 0 0", fontSize: ".7rem" },
  ".cm-gutterElement": { lineHeight: "1.21875rem" },
  ".marked.error": { textDecoration: "underline 2px var(--accent)", textUnderlineOffset: ".2em" },
  ".marked.warning": { textDecoration: "underline 1px dotted var(--ink)", textUnderlineOffset: ".2em" },
  ".remark-line": { padding: "0 .4rem 0 2.4rem", whiteSpace: "normal", overflowWrap: "anywhere" },
  ".remark-line.error": { color: "var(--accent)" },
  ".remark-line.warning": { color: "var(--faint)" },
  ".cm-tooltip": { color: "var(--ink)", backgroundColor: "var(--paper)", border: "1px solid var(--ink)" },
  ".cm-tooltip.cm-tooltip-autocomplete > ul": { fontFamily: MONOSPACE, maxHeight: "14em" },
  ".cm-tooltip.cm-tooltip-autocomplete > ul > li": { padding: ".1rem .5rem", lineHeight: "1.5" },
  ".cm-tooltip.cm-tooltip-autocomplete > ul > li[aria-selected]": {
    color: "var(--paper)",
    backgroundColor: "var(--ink)",
  },
  ".cm-completionMatchedText": { textDecoration: "none", fontWeight: "bold" },
  ".cm-completionDetail": { marginLeft: "1.2em", fontStyle: "italic", fontFamily: "Georgia, serif" },
});

const words = HighlightStyle.define([
  { tag: TAGS.keyword, fontWeight: "600" },
  { tag: TAGS.name, fontWeight: "600" },
  { tag: TAGS.value, color: "var(--ink)" },
  { tag: TAGS.small, color: "var(--faint)" },
  { tag: TAGS.quoted, fontStyle: "italic" },
  { tag: TAGS.remark, color: "var(--faint)", fontStyle: "italic" },
]);

export const look = [theme, syntaxHighlighting(words)];
