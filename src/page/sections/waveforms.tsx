/** Voltages against time, when they are asked for. */
import { signal, useComputed } from "@preact/signals";
import type { WaveformConditions } from "../../bench/waveform/conditions.ts";
import type { Waveform } from "../../bench/waveform/results.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import { modesOf } from "../../circuit/conditions.ts";
import { waveformSvg } from "../../report/waveform-svg.ts";
import {
  BUILD_UP_HEAD,
  buildUpRows,
  LEVEL_HEAD,
  levelRows,
  PERIODIC_HEAD,
  pathLines,
  periodicRows,
} from "../../report/waveform-table.ts";
import { drawnStrips, secondsText, waveformPhrases } from "../../report/waveform-words.ts";
import { conditions, mode } from "../compute/live.ts";
import { circuit } from "../compute/netlist.ts";
import { FIELDS, sourcesIn, type WaveformFields, waveformQuestion } from "../compute/waveform-question.ts";
import { Drawing } from "../controls/drawing.tsx";
import { FiguresTable } from "../controls/figures-table.tsx";
import { Failures, progressText } from "../controls/worked.tsx";
import { hands } from "../long-work/follow.ts";
import type { ModeOutput } from "../long-work/stages.ts";
import { dispatch, endStroke, keep, kept } from "../state/store.ts";
import type { Section } from "./section.ts";

const ID = "waveforms";
const fields = kept(ID, { ...FIELDS, nets: [...FIELDS.nets] });
const set = (some: Partial<WaveformFields>, stroke?: string) =>
  keep(ID, { ...fields.value, ...some } as typeof fields.value, stroke);

interface Run {
  readonly circuit: Circuit;
  readonly asked: WaveformConditions;
  readonly output?: ModeOutput<Waveform>;
}

/** The last run that came to its end, what is running, and what went wrong. */
const done = signal<Run | undefined>(undefined);
const progress = signal<number | undefined>(undefined);
const fault = signal("");

const question = () =>
  circuit.value === undefined
    ? undefined
    : waveformQuestion(circuit.value, conditions.value, mode.value, fields.value);

function run(): void {
  const [now, asked] = [circuit.peek(), question()];
  if (now === undefined || asked === undefined || "message" in asked) return;
  progress.value = 0;
  fault.value = "";
  hands.ask(
    ID,
    "waveform",
    { circuit: now, conditions: asked },
    {
      progress: (share) => {
        progress.value = share;
      },
      done: (output) => {
        progress.value = undefined;
        done.value = { circuit: now, asked, output };
      },
      failed: (message) => {
        progress.value = undefined;
        fault.value = message;
      },
    },
  );
}

function cancel(): void {
  hands.cancel(ID);
  progress.value = undefined;
}

function TextField({
  id,
  label,
  field,
  hint,
}: {
  id: string;
  label: string;
  field: "seconds" | "hertz" | "volts";
  hint: string;
}) {
  return (
    <span>
      <label for={id}>{label}</label>{" "}
      <input
        id={id}
        type="text"
        autocomplete="off"
        placeholder={hint}
        value={fields.value[field]}
        onInput={({ currentTarget }) => set({ [field]: currentTarget.value }, id)}
        onBlur={endStroke}
        onKeyDown={({ key }) => key === "Enter" && run()}
      />
    </span>
  );
}

function Begin({ now }: { readonly now: Circuit }) {
  return (
    <p class="choices waveform">
      <span>
        <label for="waveform-mode">in mode</label>{" "}
        <select
          id="waveform-mode"
          value={mode.value}
          onChange={({ currentTarget }) => dispatch({ kind: "mode", mode: currentTarget.value })}
        >
          {modesOf(now).map(({ name }) => (
            <option key={name}>{name}</option>
          ))}
        </select>
      </span>
      <span>
        <label for="waveform-start">from</label>{" "}
        <select
          id="waveform-start"
          value={fields.value.start}
          onChange={({ currentTarget }) => set({ start: currentTarget.value })}
        >
          <option value="rest">switch-on, everything discharged</option>
          <option value="point">the operating point</option>
        </select>
      </span>
      <TextField
        id="waveform-seconds"
        label="for"
        field="seconds"
        hint={sourcesIn(now).includes(fields.value.source) ? "20 periods" : "1 s"}
      />
    </p>
  );
}

function ToneFields({ now }: { readonly now: Circuit }) {
  const sources = sourcesIn(now);
  const sounding = sources.includes(fields.value.source);
  if (sources.length === 0) return null;
  return (
    <p class="choices waveform">
      <span>
        <label for="waveform-source">tone from</label>{" "}
        <select
          id="waveform-source"
          value={sounding ? fields.value.source : ""}
          onChange={({ currentTarget }) => {
            const source = currentTarget.value;
            set({ source, start: source === "" ? "rest" : "point" });
          }}
        >
          <option value="">no source</option>
          {sources.map((name) => (
            <option key={name}>{name}</option>
          ))}
        </select>
      </span>
      {sounding ? (
        <>
          <TextField id="waveform-hertz" label="of" field="hertz" hint="1 kHz" />
          <TextField id="waveform-volts" label="EMF, rms" field="volts" hint="1 mV" />
        </>
      ) : null}
    </p>
  );
}

function Nets({ now }: { readonly now: Circuit }) {
  const { nets } = fields.value;
  const turn = (name: string) =>
    set({ nets: nets.includes(name) ? nets.filter((each) => each !== name) : [...nets, name] });
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

function RunLine() {
  const asked = useComputed(question);
  const amiss = asked.value !== undefined && "message" in asked.value ? asked.value.message : "";
  const running = progress.value !== undefined;
  return (
    <>
      <p class="look" role="alert" hidden={amiss === ""}>
        {amiss === "" ? "" : `No run: ${amiss}.`}
      </p>
      <p class="choices">
        <button type="button" class="word" disabled={amiss !== ""} onClick={run}>
          run
        </button>
        <button type="button" class="word" disabled={!running} onClick={cancel}>
          cancel
        </button>
        <span class="faint" role="status">
          {progressText("running", progress.value)}
        </span>
      </p>
      {fault.value === "" ? null : <p class="look">{fault}</p>}
    </>
  );
}

function Readings({ now, result }: { readonly now: Circuit; readonly result: Waveform }) {
  const drawn = new Set(drawnStrips(now, result).map(({ name }) => name));
  const [levels, periodic, growth] = [levelRows(result), periodicRows(result), buildUpRows(result)];
  const shown = (rows: readonly (readonly string[])[]) => rows.filter(([name = ""]) => drawn.has(name));
  return (
    <>
      {pathLines(result).map((text) => (
        <p key={text}>{text}.</p>
      ))}
      <FiguresTable caption="Readings" head={LEVEL_HEAD} rows={shown(levels)} />
      {shown(periodic).length === 0 ? null : (
        <FiguresTable caption="What repeats itself" head={PERIODIC_HEAD} rows={shown(periodic)} />
      )}
      {shown(growth).length === 0 ? null : (
        <FiguresTable caption="What builds up" head={BUILD_UP_HEAD} rows={shown(growth)} />
      )}
      {levels.length === shown(levels).length ? null : (
        <details>
          <summary>Readings of all {levels.length} nets</summary>
          <FiguresTable caption="Readings of all nets" head={LEVEL_HEAD} rows={levels} />
          {periodic.length === 0 ? null : (
            <FiguresTable caption="All that repeats itself" head={PERIODIC_HEAD} rows={periodic} />
          )}
        </details>
      )}
    </>
  );
}

/** What was asked, in a line: it may be another thing than the fields say by now. */
const askedText = (result: Waveform, asked: WaveformConditions): string =>
  [result.mode, ...waveformPhrases(asked), secondsText(asked.seconds)].join(" · ");

function Found() {
  const old = useComputed(
    () =>
      done.value?.circuit !== circuit.value ||
      JSON.stringify(done.value?.asked) !== JSON.stringify(question()),
  );
  const { circuit: now, asked, output } = done.value ?? {};
  if (now === undefined || asked === undefined || output === undefined) return null;
  const { found, failures } = output;
  return (
    <div class={old.value ? "stale" : ""}>
      {old.value ? <p>This is of an earlier state; run it again for the present one.</p> : null}
      <Failures failures={failures} />
      {found === undefined ? null : (
        <figure>
          <Drawing
            text={waveformSvg({ ...now, title: "" }, [found], [])}
            title={`Oscillogram: ${askedText(found, asked)}`}
            headLines={1}
          />
          <figcaption>
            <p class="faint">{askedText(found, asked)}</p>
            <Readings now={now} result={found} />
          </figcaption>
        </figure>
      )}
    </div>
  );
}

function Waveforms() {
  const now = circuit.value;
  if (now === undefined) return <p class="faint">There is no circuit yet.</p>;
  return (
    <>
      <Begin now={now} />
      <ToneFields now={now} />
      <Nets now={now} />
      <RunLine />
      <Found />
    </>
  );
}

export const waveforms: Section = { id: ID, title: "Waveforms", Content: Waveforms };
