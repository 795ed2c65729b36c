/**
 * The netlist's editor. It lives in a shadow root: there its styles are sheets made by script, which the page's
 * policy allows, while a style element is not.
 */
import {
  autocompletion,
  type CompletionContext,
  type CompletionResult,
  completionKeymap,
} from "@codemirror/autocomplete";
import { standardKeymap, toggleComment } from "@codemirror/commands";
import { Annotation, EditorState, type Extension } from "@codemirror/state";
import { EditorView, keymap, lineNumbers } from "@codemirror/view";
import type { Diagnostic } from "../../circuit/diagnostic.ts";
import { look } from "./look.ts";
import { offersAt } from "./offers.ts";
import { changeBetween, rangeOf } from "./places.ts";
import { putRemarks, remarks } from "./remarks.ts";
import { survey } from "./survey.ts";
import { netlistLanguage } from "./words.ts";

export interface EditorHandlers {
  /** The text after a key. */
  readonly typed: (text: string) => void;
  readonly left: () => void;
  readonly undo: () => void;
  readonly redo: () => void;
  /** Texts of all files that the netlist uses. */
  readonly texts: () => readonly string[];
}

/** Not typed: put there by the sheet. */
const fromSheet = Annotation.define<true>();

function complete(context: CompletionContext, texts: () => readonly string[]): CompletionResult | null {
  const text = context.state.doc.toString();
  const found = offersAt(text, context.pos, survey([text, ...texts()]));
  // a word must be begun, unless one asks
  if (found === undefined || (!context.explicit && found.from === context.pos)) return null;
  const options = found.offers.map(({ label, detail }) => ({
    label,
    ...(detail !== undefined && { detail }),
  }));
  return { from: found.from, options, validFor: /^[\p{L}\p{N}_\-/]*$/u };
}

/**
 * What is typed over a selection is put there by us: the browser would give it the look of what it takes the place
 * of by a style written as text, which the page's policy refuses.
 */
const typedOver = EditorView.domEventHandlers({
  beforeinput(event, view) {
    const { inputType, data } = event;
    const { state, composing } = view;
    if (inputType !== "insertText" || !data || composing || state.readOnly) return false;
    if (state.selection.main.empty) return false;
    event.preventDefault();
    view.dispatch(state.replaceSelection(data), { userEvent: "input.type", scrollIntoView: true });
    return true;
  },
});

/** The sheet's history is the only one. */
function historyKeys({ undo, redo }: EditorHandlers): Extension {
  const does = (act: () => void) => () => {
    act();
    return true;
  };
  return [
    keymap.of([
      { key: "Mod-z", run: does(undo), shift: does(redo), preventDefault: true },
      { key: "Mod-y", run: does(redo), preventDefault: true },
    ]),
    EditorView.domEventHandlers({
      beforeinput({ inputType }) {
        if (inputType === "historyUndo") undo();
        else if (inputType === "historyRedo") redo();
        else return false;
        return true;
      },
    }),
  ];
}

export class NetlistEditor {
  readonly #view: EditorView;
  readonly #handlers: EditorHandlers;

  constructor(host: HTMLElement, handlers: EditorHandlers) {
    this.#handlers = handlers;
    const root = host.shadowRoot ?? host.attachShadow({ mode: "open" });
    this.#view = new EditorView({ parent: root, root, state: this.#state("", "netlist", true) });
  }

  /** Shows a file; what may not be changed can be read and copied. */
  show(file: string, text: string, fixed: boolean): void {
    this.#view.setState(this.#state(text, file, fixed));
  }

  /** The text as the sheet has it, put in where it differs. */
  sync(text: string): void {
    const old = this.#view.state.doc.toString();
    if (old === text) return;
    this.#view.dispatch({ changes: changeBetween(old, text), annotations: fromSheet.of(true) });
  }

  mark(diagnostics: readonly Diagnostic[]): void {
    this.#view.dispatch({ effects: putRemarks(diagnostics) });
  }

  /** Puts the cursor where something is wrong. */
  goTo(diagnostic: Diagnostic): void {
    const { from, to } = rangeOf(diagnostic, this.#view.state.doc);
    this.#view.dispatch({
      selection: { anchor: from, head: to },
      effects: EditorView.scrollIntoView(from, { y: "center" }),
    });
    this.#view.focus();
  }

  destroy(): void {
    this.#view.destroy();
  }

  #state(text: string, file: string, fixed: boolean): EditorState {
    const handlers = this.#handlers;
    return EditorState.create({
      doc: text,
      extensions: [
        lineNumbers(),
        EditorView.lineWrapping,
        netlistLanguage,
        look,
        remarks,
        fixed ? EditorState.readOnly.of(true) : [],
        autocompletion({
          override: [(context) => complete(context, handlers.texts)],
          selectOnOpen: false,
          icons: false,
        }),
        historyKeys(handlers),
        typedOver,
        keymap.of([...completionKeymap, { key: "Mod-/", run: toggleComment }, ...standardKeymap]),
        EditorView.contentAttributes.of({
          "aria-label": `netlist, ${file}`,
          "aria-readonly": String(fixed),
          tabindex: "0",
          spellcheck: "false",
        }),
        EditorView.updateListener.of(({ docChanged, transactions, state }) => {
          const typed = transactions.some((each) => each.docChanged && !each.annotation(fromSheet));
          if (docChanged && typed) handlers.typed(state.doc.toString());
        }),
        EditorView.domEventHandlers({ blur: () => handlers.left() }),
      ],
    });
  }
}
