/** A slider with its designator, its label and what it stands at. */
import { hold, release, releaseOnly } from "../state/hand.ts";

interface SliderProps {
  readonly id: string;
  /** `P1`, `battery`. */
  readonly name: string;
  /** `volume`; may be empty. */
  readonly label: string;
  readonly value: number;
  readonly least: number;
  readonly greatest: number;
  readonly step: number;
  /** What it stands at, in words. */
  readonly text: string;
  readonly onValue: (value: number) => void;
}

const HELD_KEYS = new Set([
  "ArrowLeft",
  "ArrowRight",
  "ArrowUp",
  "ArrowDown",
  "PageUp",
  "PageDown",
  "Home",
  "End",
]);

export function Slider({ id, name, label, value, least, greatest, step, text, onValue }: SliderProps) {
  return (
    <div class="slider">
      <label for={id}>
        <span class="designator">{name}</span>
        {label === "" ? null : ` ${label}`}
      </label>
      <input
        id={id}
        type="range"
        min={least}
        max={greatest}
        step={step}
        value={value}
        aria-valuetext={text}
        onInput={(event) => onValue(event.currentTarget.valueAsNumber)}
        onPointerDown={() => hold(id)}
        onPointerUp={release}
        onPointerCancel={release}
        onKeyDown={({ key }) => HELD_KEYS.has(key) && hold(id)}
        onKeyUp={release}
        onBlur={() => releaseOnly(id)}
      />
      <output for={id}>{text}</output>
    </div>
  );
}
