/** Under which conditions everything below holds: mode, battery, ambient, meter, pots and trimmers. */
import { useComputed } from "@preact/signals";
import { modesOf } from "../../circuit/conditions.ts";
import { decimal } from "../../report/numbers.ts";
import { quantityText } from "../../report/quantities.ts";
import { conditions as asked, mode } from "../compute/live.ts";
import { circuit, labelOf } from "../compute/netlist.ts";
import { Slider } from "../controls/slider.tsx";
import { Switch } from "../controls/switch.tsx";
import { type Control, controlsOf, handSwitches } from "../state/conditions.ts";
import { nextPoint } from "../state/hand.ts";
import { METERS, readMeter } from "../state/meter.ts";
import { dispatch, endStroke, settings, sheet } from "../state/store.ts";
import { pointWords } from "../words.ts";
import type { Section } from "./section.ts";
import { goTo } from "./suspects.tsx";

function ModeSwitch() {
  const now = circuit.value;
  if (now === undefined) return null;
  const names = modesOf(now).map(({ name }) => name);
  if (names.length < 2) return null;
  return (
    <Switch
      name="mode"
      title="Mode"
      positions={names}
      position={mode.value}
      onPosition={(name) => dispatch({ kind: "mode", mode: name })}
    />
  );
}

const unitText = ({ value, unit }: Control) =>
  unit === "volt" ? `${decimal(value, 2)} V` : quantityText(value, "percent");

function ControlSlider({ control, alone }: { control: Control; alone: boolean }) {
  const { part, key, value, least, greatest, step, unit } = control;
  const battery = unit === "volt";
  return (
    <Slider
      id={`set-${part}-${key}`}
      name={battery && alone ? "battery" : part}
      label={battery && alone ? part : labelOf(part)}
      value={value}
      least={least}
      greatest={greatest}
      step={step}
      text={unitText(control)}
      onValue={(next) => dispatch({ kind: "set", state: { part, key, value: next } }, `${part}.${key}`)}
    />
  );
}

/** The bench is seldom colder or hotter, °C. */
const [COLD, HOT] = [-10, 55];

function Ambient() {
  const celsius = settings.value.ambientCelsius ?? circuit.value?.ambientCelsius ?? 25;
  return (
    <Slider
      id="ambient"
      name="ambient"
      label=""
      value={celsius}
      least={Math.min(COLD, Math.floor(celsius))}
      greatest={Math.max(HOT, Math.ceil(celsius))}
      step={1}
      text={quantityText(celsius, "celsius")}
      onValue={(next) => dispatch({ kind: "ambient", celsius: next }, "ambient")}
    />
  );
}

function MeterField() {
  const { meter } = settings.value;
  const read = readMeter(meter);
  const problem = read !== undefined && "message" in read ? read.message : "";
  return (
    <div class="meter">
      <label for="meter">meter</label>
      <input
        id="meter"
        type="text"
        list="meters"
        placeholder="ideal"
        spellcheck={false}
        value={meter}
        aria-invalid={problem !== ""}
        aria-describedby="meter-problem"
        onInput={({ currentTarget }) => dispatch({ kind: "meter", text: currentTarget.value }, "meter")}
        onBlur={endStroke}
      />
      <datalist id="meters">
        {METERS.map((each) => (
          <option key={each} value={each} />
        ))}
      </datalist>
      <span id="meter-problem" class="look">
        {problem}
      </span>
    </div>
  );
}

/** What is set and has no control of its own, in words: from `--set`, or a part put in for another. */
function otherSettings(controls: readonly Control[], switches: readonly string[]): string {
  const set = asked.value.set ?? [];
  return set
    .filter(({ part, key }) => !controls.some((each) => each.part === part && each.key === key))
    .filter(({ part }) => !switches.includes(part))
    .map(({ part, key, value }) => `${part} ${key} ${value}`)
    .join(" · ");
}

/** The one line in the accent; its room is there when it is empty. */
function MeasureNext() {
  const next = nextPoint.value;
  return (
    <p class="next look" role="status">
      {next === undefined ? null : (
        <button type="button" class="word" onClick={() => goTo(next)}>
          Measure next: {pointWords(next.point)}, in {next.mode}
        </button>
      )}
    </p>
  );
}

function Notes() {
  return (
    <label class="notes">
      <span>notes</span>
      <textarea
        rows={1}
        placeholder=" "
        value={sheet.value.notes}
        onInput={({ currentTarget }) => dispatch({ kind: "notes", text: currentTarget.value }, "notes")}
        onBlur={endStroke}
      />
    </label>
  );
}

function Conditions() {
  const controls = useComputed(() =>
    circuit.value === undefined ? [] : controlsOf(circuit.value, settings.value),
  );
  const switches = useComputed(() =>
    circuit.value === undefined ? [] : handSwitches(circuit.value, settings.value),
  );
  const batteries = controls.value.filter(({ unit }) => unit === "volt");
  const turned = controls.value.filter(({ unit }) => unit === "percent");
  const others = otherSettings(
    controls.value,
    switches.value.map(({ part }) => part),
  );
  const moved = settings.value.set.length > 0 || settings.value.ambientCelsius !== null;
  return (
    <>
      <div class="supply">
        <ModeSwitch />
        {switches.value.map(({ part, positions, position }) => (
          <div key={part} class="hand-switch">
            <span class="designator">{part}</span>
            <Switch
              name={part}
              title={`${part} ${labelOf(part)}`}
              positions={positions}
              position={position}
              onPosition={(next) => dispatch({ kind: "set", state: { part, key: "position", value: next } })}
            />
          </div>
        ))}
        <MeterField />
        <Notes />
        <p class="as-drawn">
          <button type="button" class="word" disabled={!moved} onClick={() => dispatch({ kind: "as drawn" })}>
            all as the netlist has it
          </button>
        </p>
      </div>
      <div class="sliders">
        {batteries.map((control) => (
          <ControlSlider key={control.part} control={control} alone={batteries.length === 1} />
        ))}
        <Ambient />
        {turned.map((control) => (
          <ControlSlider key={control.part} control={control} alone={false} />
        ))}
      </div>
      {others === "" ? null : <p class="faint">also set: {others}</p>}
      {settings.value.isothermal ? <p class="faint">junctions held at ambient</p> : null}
      <MeasureNext />
    </>
  );
}

export const conditions: Section = { id: "conditions", title: "Conditions", Content: Conditions };
