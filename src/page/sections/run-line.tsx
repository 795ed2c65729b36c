/** Where long work is begun, watched and broken off. */
import { progressText } from "../controls/worked.tsx";
import type { Demanded } from "../long-work/on-demand.ts";

interface RunLineProps {
  readonly name: string;
  readonly state: Demanded;
  readonly disabled?: boolean;
  readonly onRun: () => void;
  readonly onCancel: () => void;
}

const words = ({ progress, stopping }: Demanded): string =>
  stopping ? "stopping …" : progressText("running", progress);

export function RunLine({ name, state, disabled = false, onRun, onCancel }: RunLineProps) {
  return (
    <>
      <p class="choices">
        <button type="button" class="word" disabled={disabled} onClick={onRun}>
          {name}
        </button>
        <button type="button" class="word" disabled={state.progress === undefined} onClick={onCancel}>
          cancel
        </button>
        <span class="faint" role="status">
          {words(state)}
        </span>
      </p>
      <p class="look" role="alert" hidden={state.failure === ""}>
        {state.failure}
      </p>
    </>
  );
}
