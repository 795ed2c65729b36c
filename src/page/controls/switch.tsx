/** A switch of two positions or more, as it lies under the keyboard of a set: a group of radio buttons. */

interface SwitchProps {
  readonly name: string;
  /** What it is, for those who do not see it. */
  readonly title: string;
  readonly positions: readonly string[];
  readonly position: string;
  readonly onPosition: (position: string) => void;
}

export function Switch({ name, title, positions, position, onPosition }: SwitchProps) {
  return (
    <fieldset class="switch">
      <legend class="unseen">{title}</legend>
      {positions.map((each) => (
        <label key={each}>
          <input type="radio" name={name} checked={each === position} onChange={() => onPosition(each)} />
          <span>{each}</span>
        </label>
      ))}
    </fieldset>
  );
}
