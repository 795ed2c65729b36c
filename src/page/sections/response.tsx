/** Gain and phase of every path against frequency, with the standard's curve and what was measured. */
import { useComputed } from "@preact/signals";
import { decibels, hertz } from "../../report/numbers.ts";
import { responses, stale } from "../compute/live.ts";
import { HERTZ } from "../compute/solution.ts";
import { STANDARD_TEXTS } from "../compute/target.ts";
import { keep } from "../state/store.ts";
import {
  choices,
  cursor,
  curves,
  ID,
  measuredAt,
  measuredProblem,
  moving,
  target,
} from "./response-model.ts";
import { Plot } from "./response-plot.tsx";
import { atCursor, offTarget, playedWords, summary } from "./response-words.ts";
import type { Section } from "./section.ts";

function cursorText(): string {
  const index = cursor.value;
  const at = HERTZ[index]!;
  const paths = curves.value.curves.map((curve, i) => atCursor(curve, responses.value[i]!, index));
  const read = measuredAt(at);
  const more = [
    offTarget(target.value, index),
    read === undefined ? "" : `measured ${decibels(read)} dB on this scale`,
  ];
  return `At ${hertz(Number(at.toPrecision(3)))}: ${[...paths, ...more.filter((text) => text !== "")].join(" · ")}`;
}

/** What the cursor shows; said aloud when the cursor moves, not while a control does. */
function CursorWords() {
  const text = useComputed(cursorText);
  return (
    <p class="cursor-words" aria-live={moving.value ? "off" : "polite"}>
      {text}
    </p>
  );
}

const choose = (some: Partial<typeof choices.value>) =>
  keep(ID, { ...choices.value, ...some } as typeof choices.value);

/** Larger tables are no measured response, characters. */
const LARGEST = 200_000;

async function readIn(input: HTMLInputElement): Promise<void> {
  const file = input.files?.[0];
  input.value = "";
  if (file === undefined) return;
  const text = file.size > LARGEST ? `${file.name} is too large for a measured response` : await file.text();
  choose({ measuredName: file.name, measuredText: text });
}

function Choices() {
  const { standard, measuredName } = choices.value;
  return (
    <p class="choices">
      <label for="standard">target </label>
      <select
        id="standard"
        value={standard}
        onChange={({ currentTarget }) => choose({ standard: currentTarget.value })}
      >
        <option value="">none</option>
        {STANDARD_TEXTS.map((text) => (
          <option key={text} value={text}>
            {text}
          </option>
        ))}
      </select>
      <label class="file">
        <span class="word">
          {measuredName === "" ? "lay a measured curve over it (CSV: hertz,db)" : measuredName}
        </span>
        <input
          type="file"
          accept=".csv,.txt,text/csv,text/plain"
          onChange={({ currentTarget }) => void readIn(currentTarget)}
        />
      </label>
      {measuredName === "" ? null : (
        <button type="button" class="word" onClick={() => choose({ measuredName: "", measuredText: "" })}>
          take it off
        </button>
      )}
      {measuredProblem.value === "" ? null : (
        <span class="look" role="alert">
          {" "}
          {measuredProblem}
        </span>
      )}
    </p>
  );
}

function Summary() {
  return (
    <table class="summary">
      <thead>
        <tr>
          <th scope="col">path</th>
          <th scope="col">gain at 1 kHz</th>
          <th scope="col">greatest</th>
          <th scope="col">−3 dB below</th>
          <th scope="col">−3 dB above</th>
        </tr>
      </thead>
      <tbody>
        {responses.value.map((response, i) => (
          <tr key={`${response.path} ${response.mode}`}>
            <th scope="row">{curves.value.curves[i]?.label}</th>
            {summary(response).map((text, k) => (
              <td key={k}>{text}</td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Response() {
  if (responses.value.length === 0) {
    return (
      <p class="faint">
        The netlist names no path that could be followed: add a line “path NAME from SOURCE to NET”.
      </p>
    );
  }
  const played = target.value?.response;
  return (
    <figure class={stale.value ? "stale" : ""}>
      <Plot />
      <figcaption>
        <CursorWords />
        {played === undefined ? null : <p class="faint">{playedWords(played)}</p>}
        <Summary />
      </figcaption>
      <Choices />
    </figure>
  );
}

export const response: Section = { id: ID, title: "Response", Content: Response };
