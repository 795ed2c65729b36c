/** The fields in which a run in time is asked for. */
import type { ComponentChildren } from "preact";
import type { Circuit } from "../../circuit/circuit.ts";
import { modesOf } from "../../circuit/conditions.ts";
import { sourcesIn } from "../../parts/index.ts";
import { mode } from "../compute/live.ts";
import type { WaveformFields } from "../compute/waveform-question.ts";
import { dispatch, endStroke } from "../state/store.ts";
import { amiss, fields, run, setFields } from "./waveform-state.ts";

/** Where the sentence on what is amiss stands. */
export const AMISS = "waveform-amiss";

type TextName = Exclude<keyof WaveformFields, "nets">;

const idOf = (field: TextName) => `waveform-${field}`;

const typed = (field: TextName) => ({
  id: idOf(field),
  autocomplete: "off",
  spellcheck: false,
  value: fields.value[field],
  "aria-invalid": amiss.value?.field === field,
  "aria-describedby": AMISS,
  onInput: ({ currentTarget }: { currentTarget: { value: string } }) =>
    setFields({ [field]: currentTarget.value }, idOf(field)),
  onBlur: endStroke,
});

function TextField({ field, label, hint }: { field: TextName; label: string; hint: string }) {
  return (
    <span>
      <label for={idOf(field)}>{label}</label>{" "}
      <input
        {...typed(field)}
        type="text"
        placeholder={hint}
        onKeyDown={({ key }: KeyboardEvent) => key === "Enter" && run()}
      />
    </span>
  );
}

interface SelectProps {
  readonly id: string;
  readonly label: string;
  readonly value: string;
  readonly onValue: (value: string) => void;
  readonly children: ComponentChildren;
}

function Select({ id, label, value, onValue, children }: SelectProps) {
  return (
    <span>
      <label for={id}>{label}</label>{" "}
      <select id={id} value={value} onChange={({ currentTarget }) => onValue(currentTarget.value)}>
        {children}
      </select>
    </span>
  );
}

const sounding = (now: Circuit): boolean => sourcesIn(now).includes(fields.value.source);

export function Begin({ now }: { readonly now: Circuit }) {
  return (
    <p class="choices waveform">
      <Select
        id="waveform-mode"
        label="in mode"
        value={mode.value}
        onValue={(name) => dispatch({ kind: "mode", mode: name })}
      >
        {modesOf(now).map(({ name }) => (
          <option key={name}>{name}</option>
        ))}
      </Select>
      <Select
        id="waveform-start"
        label="from"
        value={fields.value.start}
        onValue={(start) => setFields({ start })}
      >
        <option value="rest">switch-on, everything discharged</option>
        <option value="point">the operating point</option>
      </Select>
      <TextField field="seconds" label="for" hint={sounding(now) ? "20 periods" : "1 s"} />
    </p>
  );
}

/** What a source gives besides its first tone. */
function Sound() {
  const { sound } = fields.value;
  return (
    <>
      <TextField field="hertz" label="of" hint="1 kHz" />
      <TextField field="volts" label="EMF, rms" hint="1 mV" />
      {sound === "tones" ? (
        <>
          <TextField field="otherHertz" label="and of" hint="60 Hz" />
          <TextField field="otherVolts" label="second EMF, rms" hint="4 mV" />
        </>
      ) : null}
      {sound === "burst" ? (
        <>
          <TextField field="from" label="sounding from" hint="2 ms" />
          <TextField field="until" label="until" hint="10 ms" />
        </>
      ) : null}
    </>
  );
}

export function Tones({ now }: { readonly now: Circuit }) {
  const sources = sourcesIn(now);
  if (sources.length === 0) return null;
  return (
    <p class="choices waveform">
      <Select
        id="waveform-source"
        label="tone from"
        value={sounding(now) ? fields.value.source : ""}
        onValue={(source) => setFields({ source, start: source === "" ? "rest" : "point" })}
      >
        <option value="">no source</option>
        {sources.map((name) => (
          <option key={name}>{name}</option>
        ))}
      </Select>
      {sounding(now) ? (
        <>
          <Select
            id="waveform-sound"
            label="as"
            value={fields.value.sound}
            onValue={(sound) => setFields({ sound })}
          >
            <option value="tone">a tone</option>
            <option value="tones">two tones</option>
            <option value="burst">a burst</option>
          </Select>
          <Sound />
        </>
      ) : null}
    </p>
  );
}

const nameOfSwitch = ({ parts }: Circuit): string => {
  const found = parts.find(({ kind }) => kind === "switch");
  const position = found?.positions?.at(-1);
  return found === undefined || position === undefined ? "B1 = off" : `${found.name} = ${position}`;
};

/** What is seldom asked for; folded unless something stands in it. */
export function More({ now }: { readonly now: Circuit }) {
  const { events, displaced, also } = fields.value;
  const some = events !== "" || displaced !== "" || also !== "";
  return (
    <details class="nets-shown" open={some}>
      <summary>On the way: switches turned, nets that start elsewhere, currents</summary>
      <p class="choices waveform">
        <span>
          <label for={idOf("events")}>what happens, a line each </label>
          <textarea {...typed("events")} rows={2} cols={26} placeholder={`50 ms ${nameOfSwitch(now)}`} />
        </span>
        <TextField field="displaced" label="nets that start elsewhere" hint="tank = 10 mV" />
        <TextField field="also" label="shown besides" hint="R5 current" />
      </p>
      <p class="faint">
        Parts are set as in “50 ms {nameOfSwitch(now)}”, “0 s B1 = on” or “2 ms R4 = 4k7”; shown are “R5
        current”, “M1 speed” or “A minus B”, with commas between.
      </p>
    </details>
  );
}

export function Nets({ now }: { readonly now: Circuit }) {
  const { nets } = fields.value;
  const turn = (name: string) =>
    setFields({ nets: nets.includes(name) ? nets.filter((each) => each !== name) : [...nets, name] });
  return (
    <details class="nets-shown">
      <summary>
        {nets.length === 0 ? "Nets: outputs, supplies and what moves most" : `Nets: ${nets.join(", ")}`}
      </summary>
      <fieldset>
        <legend class="unseen">Nets to show</legend>
        {now.nets.slice(1).map(({ name }) => (
          <label key={name}>
            <input type="checkbox" checked={nets.includes(name)} onChange={() => turn(name)} /> {name}
          </label>
        ))}
      </fieldset>
    </details>
  );
}
