/** Readings that have no field in the chart: currents, drops, gains, ohms with the batteries out. */
import { useSignal } from "@preact/signals";
import { readReading } from "../../language/index.ts";
import { mode } from "../compute/live.ts";
import { circuit } from "../compute/netlist.ts";
import { dispatch, readings } from "../state/store.ts";
import { pointWords, withHint } from "../words.ts";
import { currentPoint } from "./current-field.tsx";

/** Typed readings that no field of the chart shows. */
function others() {
  const now = circuit.value;
  const fields = new Set([
    ...(now?.nets.map(({ name }) => name) ?? []),
    ...(now?.parts.filter(({ kind }) => kind === "transistor").map(({ name }) => `${name} current`) ?? []),
  ]);
  return Object.entries(readings.value).flatMap(([inMode, ofMode]) =>
    Object.entries(ofMode)
      .filter(([point, text]) => text !== "" && (inMode.endsWith(" off") || !fields.has(point)))
      .map(([point, text]) => ({ mode: inMode, point, text })),
  );
}

/** Puts it on the sheet; a sentence if it is no reading. */
function put(text: string): string {
  const now = circuit.peek();
  if (now === undefined) return "";
  const whole = text.includes(":") ? text : `${mode.peek()}: ${text}`;
  const found = readReading(now, whole.replaceAll("\u2212", "-"));
  if (!("mode" in found)) return withHint(found);
  const value = whole.slice(whole.lastIndexOf("=") + 1).trim();
  const { look } = found;
  const net = look.kind === "voltage" && look.minus === 0 ? now.nets[look.net]?.name : undefined;
  const point = net ?? currentPoint(now, look) ?? found.point;
  dispatch({ kind: "reading", mode: found.mode, point, text: value });
  return "";
}

export function OtherReading() {
  const [text, problem] = [useSignal(""), useSignal("")];
  const take = () => {
    problem.value = text.value.trim() === "" ? "" : put(text.value);
    if (problem.value === "") text.value = "";
  };
  return (
    <div class="other-readings">
      {others().map(({ mode: inMode, point, text: value }) => (
        <p key={`${inMode} ${point}`}>
          {inMode}: {pointWords(point)} {value}{" "}
          <button
            type="button"
            class="word"
            onClick={() => dispatch({ kind: "reading", mode: inMode, point, text: "" })}
          >
            take it off
          </button>
        </p>
      ))}
      <p class="other-reading">
        <label for="other-reading">Something else you measured </label>
        <input
          id="other-reading"
          type="text"
          spellcheck={false}
          placeholder="B1 current = 12 mA"
          value={text.value}
          aria-invalid={problem.value !== ""}
          aria-describedby="other-problem"
          onInput={({ currentTarget }) => {
            text.value = currentTarget.value;
          }}
          onKeyDown={({ key }) => key === "Enter" && take()}
        />{" "}
        <button type="button" class="word" onClick={take}>
          take it down
        </button>{" "}
        <span id="other-problem" class="look" aria-live="polite">
          {problem}
        </span>
      </p>
    </div>
  );
}
