/** Another type in the socket of a transistor: what moves, from where to where. */
import { useComputed } from "@preact/signals";
import type { Candidate, PathFigures, Substitution } from "../../bench/substitute/results.ts";
import type { Part } from "../../circuit/circuit.ts";
import { decibels, signed, volts } from "../../report/numbers.ts";
import { movedText, operatingCells, rangeText, rebiasText } from "../../report/substitute-table.ts";
import { allTypes, refitted, typeProblem } from "../compute/fitting.ts";
import { conditions, mode } from "../compute/live.ts";
import { circuit } from "../compute/netlist.ts";
import { FiguresTable } from "../controls/figures-table.tsx";
import { Failures, Worked } from "../controls/worked.tsx";
import { useFollowed } from "../long-work/follow.ts";
import { announce } from "../state/hand.ts";
import { dispatch, endStroke, files, keep, kept, sheet } from "../state/store.ts";
import type { Section } from "./section.ts";

const ID = "substitutes";
/** What is tried; an empty part is the first transistor. */
const tried = kept(ID, { part: "", type: "" });
/** Alike types that are named. */
const NEAREST = 6;

const transistors = (): readonly Part[] =>
  circuit.value?.parts.filter(({ kind }) => kind === "transistor") ?? [];
const partTried = (): Part | undefined =>
  transistors().find(({ name }) => name === tried.value.part) ?? transistors()[0];

const choose = (some: { part?: string; type?: string }, stroke?: string) =>
  keep(ID, { ...tried.value, ...some }, stroke);

const OPERATING = ["collector current", "V_CE", "dissipation", "of its greatest"];

/** What a path does, by name of the figure. */
const pathCells = (figures: PathFigures): readonly string[] => [
  `${decibels(figures.gain_db)} dB`,
  rangeText(figures),
  figures.input_noise_volts_rms === undefined ? "–" : volts(figures.input_noise_volts_rms),
];

function pathRows({ fitted }: Substitution, candidate: Candidate): string[][] {
  return Object.entries(fitted.paths).flatMap(([name, before]) => {
    const now = candidate.paths[name];
    const [gain, range, hiss] = pathCells(before);
    if (now === undefined) return [[name, gain!, "–"]];
    const [newGain, newRange, newHiss] = pathCells(now);
    const noise = now.noise_change_db === undefined ? "" : `${signed(now.noise_change_db)} dB`;
    return [
      [`${name}, gain at 1 kHz`, gain!, newGain!, `${signed(now.change_db)} dB`],
      [`${name}, −3 dB`, range!, newRange!, ""],
      [`${name}, hiss as EMF of the source`, hiss!, newHiss!, noise],
    ];
  });
}

/** Every figure with the type fitted and with the other one. */
export function comparedRows(one: Substitution, candidate: Candidate): readonly (readonly string[])[] {
  const { part, fitted } = one;
  const before = operatingCells(fitted.transistors[part]!, fitted.ptot_watts);
  const now = operatingCells(candidate.transistors[part]!, candidate.ptot_watts);
  return [
    ...OPERATING.map((what, k) => [`${part}, ${what}`, before[k]!, now[k]!, ""]),
    ...pathRows(one, candidate),
  ];
}

function Notes({ candidate }: { readonly candidate: Candidate }) {
  const { limits, warnings, moved, rebias } = candidate;
  return (
    <>
      {limits.map((text) => (
        <p key={text} class="look">
          Limit: {text}.
        </p>
      ))}
      {warnings.map((text) => (
        <p key={text}>Mind: {text}.</p>
      ))}
      {moved.length === 0 ? null : <p>Beyond the spread: {moved.map(movedText).join("; ")}.</p>}
      {rebias === undefined ? null : <p>To mend it, {rebiasText(rebias)}.</p>}
      {limits.length + warnings.length + moved.length === 0 ? (
        <p>No limit is passed, and nothing moves beyond what samples and tolerances explain.</p>
      ) : null}
    </>
  );
}

function Compared({ one, type }: { readonly one: Substitution | undefined; readonly type: string }) {
  if (one === undefined) return null;
  const candidate = one.candidates.find((each) => each.type === type);
  if (candidate === undefined) {
    const reason = one.left_out.find((each) => each.type === type)?.reason ?? "no operating point is found";
    return (
      <p class="look">
        {type} cannot be fitted: {reason}.
      </p>
    );
  }
  return (
    <>
      <FiguresTable
        caption={`${one.part}: ${type} in place of ${one.fitted.type}, in ${one.mode}`}
        head={[`in ${one.mode}`, `${one.fitted.type}, fitted`, `→ ${type}`, ""]}
        rows={comparedRows(one, candidate)}
      />
      <Notes candidate={candidate} />
    </>
  );
}

/** Writes the type into the netlist; undoable as any other change of it. */
function fit(part: Part, type: string): void {
  const change = refitted(files.value, sheet.value.main, part, type);
  if (change === undefined) {
    announce(`The line of ${part.name} could not be changed by itself: write ${type} there in the netlist.`);
    return;
  }
  endStroke();
  dispatch({ kind: "text", ...change });
  announce(`${part.name} is ${type} now; undo takes it back.`);
}

function Nearest({ part }: { readonly part: Part }) {
  const { type: name = "" } = part;
  const state = useFollowed("alike", "alike", () => {
    const types = circuit.value?.types ?? {};
    const wanted = Object.hasOwn(types, name) ? types[name] : undefined;
    if (wanted === undefined) return undefined;
    return { wanted: JSON.stringify(wanted), types: JSON.stringify(types) };
  });
  const nearest = state.value.value ?? [];
  return (
    <>
      <datalist id="types-to-fit">
        {nearest.map(({ type, cautions }) => (
          <option key={type} value={type} label={cautions.join(", ")} />
        ))}
      </datalist>
      <p class="choices">
        <span class="faint">most like {name}:</span>
        {nearest.slice(0, NEAREST).map(({ type }) => (
          <button key={type} type="button" class="word" onClick={() => choose({ type })}>
            {type}
          </button>
        ))}
      </p>
    </>
  );
}

function Choice({ part, problem }: { readonly part: Part; readonly problem: string }) {
  const { type } = tried.value;
  return (
    <>
      <p class="choices substitute">
        <label for="socket">in place of</label>
        <select
          id="socket"
          value={part.name}
          onChange={({ currentTarget }) => choose({ part: currentTarget.value })}
        >
          {transistors().map((each) => (
            <option key={each.name} value={each.name}>
              {each.name} {each.type}
            </option>
          ))}
        </select>
        <label for="type-to-fit">fit</label>
        <input
          id="type-to-fit"
          type="text"
          list="types-to-fit"
          autocomplete="off"
          spellcheck={false}
          value={type}
          aria-invalid={problem !== ""}
          aria-describedby="type-problem"
          onChange={({ currentTarget }) => choose({ type: currentTarget.value.trim() })}
        />
        <button
          type="button"
          class="word"
          disabled={type === "" || type === part.type || problem !== ""}
          onClick={() => fit(part, type)}
        >
          fit it in the netlist
        </button>
      </p>
      <p id="type-problem" class="look" role="alert" hidden={problem === ""}>
        {problem === "" ? "" : `No type to try: ${problem}${problem.endsWith("?") ? "" : "."}`}
      </p>
      <Nearest key={`${part.name} ${part.type}`} part={part} />
    </>
  );
}

function asked() {
  const [now, part, { type }] = [circuit.value, partTried(), tried.value];
  if (now === undefined || part === undefined || type === "" || type === part.type) return undefined;
  return { now, part, type, problem: typeProblem(now, part, type) ?? "" };
}

/** With the type among those of the circuit. */
const withTypes = oncePer((now: NonNullable<typeof circuit.value>) => ({ ...now, types: allTypes(now) }));

/** The same answer for the same circuit. */
function oncePer<Given extends object, Made>(make: (given: Given) => Made): (given: Given) => Made {
  const made = new WeakMap<Given, Made>();
  return (given) => {
    if (!made.has(given)) made.set(given, make(given));
    return made.get(given)!;
  };
}

function Substitutes() {
  const question = useComputed(asked);
  const state = useFollowed(ID, "substitute", () => {
    const all = asked();
    if (all === undefined || all.problem !== "") return undefined;
    const { now, part, type } = all;
    return { circuit: withTypes(now), conditions: conditions.value, part: part.name, type };
  });
  const part = partTried();
  if (part === undefined) return <p class="faint">The netlist has no transistor to replace.</p>;
  const { problem = "", type = "" } = question.value ?? {};
  const fitted = tried.value.type === part.type;
  return (
    <>
      <Choice part={part} problem={problem} />
      {fitted ? (
        <p class="faint">
          {part.type} is what {part.name} is.
        </p>
      ) : null}
      {type === "" || problem !== "" ? null : (
        <Worked state={state.value} doing={`trying ${type}`}>
          {({ results, failures }) => {
            const one = results.find((each) => each.mode === mode.value);
            return (
              <>
                <Failures failures={failures} />
                <Compared one={one} type={one?.candidates[0]?.type ?? one?.left_out[0]?.type ?? type} />
              </>
            );
          }}
        </Worked>
      )}
    </>
  );
}

export const substitutes: Section = { id: ID, title: "Substitutes", Content: Substitutes };
