/** The editor on the sheet: plain text first, so that the first picture does not wait for it. */
import { type ReadonlySignal, type Signal, useSignalEffect } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Diagnostic } from "../../circuit/diagnostic.ts";
import { diagnostics, netlist } from "../compute/netlist.ts";
import { doAgain, takeBack } from "../undo-keys.tsx";
import { NetlistEditor } from "./editor.ts";
import { isTyping, readNow, stopTyping, typed } from "./typing.ts";

interface Props {
  /** The file that is looked at. */
  readonly file: ReadonlySignal<string>;
  readonly fixed: ReadonlySignal<boolean>;
  /** Somebody wants to see where this stands; undefined again once it is seen. */
  readonly wanted: Signal<Diagnostic | undefined>;
}

/** As the reader has it: lines ended by `\n`. */
const textOf = (file: string): string => netlist.value.sources.get(file) ?? "";

/** Nothing waits for an editor: it is made when there is time. */
function whenIdle(act: () => void): () => void {
  if (typeof requestIdleCallback !== "function") {
    const timer = setTimeout(act, 300);
    return () => clearTimeout(timer);
  }
  const asked = requestIdleCallback(act, { timeout: 1500 });
  return () => cancelIdleCallback(asked);
}

const handlersFor = (file: ReadonlySignal<string>) => ({
  typed: (text: string) => typed(file.peek(), text),
  left: stopTyping,
  undo: () => {
    stopTyping();
    takeBack();
  },
  redo: () => {
    stopTyping();
    doAgain();
  },
  texts: () => [...netlist.peek().sources.values()],
});

export function Editor({ file, fixed, wanted }: Props) {
  const host = useRef<HTMLDivElement>(null);
  const [editor, setEditor] = useState<NetlistEditor>();
  useEffect(() => {
    let made: NetlistEditor | undefined;
    const stop = whenIdle(() => {
      // what is not to be seen cannot be measured
      host.current!.hidden = false;
      made = new NetlistEditor(host.current!, handlersFor(file));
      setEditor(made);
    });
    addEventListener("pagehide", readNow, { capture: true });
    return () => {
      stop();
      stopTyping();
      removeEventListener("pagehide", readNow, { capture: true });
      made?.destroy();
    };
  }, [file]);
  return (
    <>
      {editor === undefined ? null : (
        <EditorContent editor={editor} file={file} fixed={fixed} wanted={wanted} />
      )}
      <div ref={host} class="editor" hidden={editor === undefined} />
      <pre class={editor === undefined ? "listing" : "listing only-printed"}>{textOf(file.value)}</pre>
    </>
  );
}

/** Keeps an editor as the sheet is. Draws nothing itself. */
function EditorContent({ editor, file, fixed, wanted }: Props & { readonly editor: NetlistEditor }) {
  useSignalEffect(() => {
    editor.show(file.value, netlist.peek().sources.get(file.value) ?? "", fixed.value);
    editor.mark(diagnostics.peek().filter((each) => each.file === file.peek()));
  });
  useSignalEffect(() => {
    const found = diagnostics.value.filter((each) => each.file === file.value);
    if (isTyping(file.value)) return;
    editor.sync(textOf(file.value));
    editor.mark(found);
  });
  useSignalEffect(() => {
    const place = wanted.value;
    if (place?.file !== file.value) return;
    wanted.value = undefined;
    editor.goTo(place);
  });
  return null;
}
