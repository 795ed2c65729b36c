/** What a section gives out as files: a drawing, values. */
import { download, fileName } from "../keep/save.ts";
import { sheet } from "../state/store.ts";

interface GivenOut {
  /** Of the file's name, `-waveform.svg`. */
  readonly ending: string;
  readonly text: () => string;
}

const WORDS: Readonly<Record<string, readonly [string, string]>> = {
  svg: ["drawing (SVG)", "image/svg+xml"],
  csv: ["values (CSV)", "text/csv"],
};

export function Downloads({ what, files }: { readonly what: string; readonly files: readonly GivenOut[] }) {
  return (
    <p class="choices">
      Save
      {files.map(({ ending, text }) => {
        const [words = "", type = ""] = WORDS[ending.slice(-3)] ?? [];
        return (
          <button
            key={ending}
            type="button"
            class="word"
            aria-label={`Save ${what} as ${words}`}
            onClick={() => download(fileName(sheet.peek().main, ending), type, text())}
          >
            {words}
          </button>
        );
      })}
    </p>
  );
}
