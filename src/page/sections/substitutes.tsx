/** Another type in the socket of a transistor: what moves, from where to where. */
import { signal, useComputed } from "@preact/signals";
import type { Candidate, PathFigures, Substitution } from "../../bench/substitute/results.ts";
import type { Part } from "../../circuit/circuit.ts";
import { decibels, signed, volts } from "../../report/numbers.ts";
import { movedText, operatingCells, rangeText, rebiasText } from "../../report/substitute-table.ts";
import { allTypes, otherHalf, refitted, typeProblem } from "../compute/fitting.ts";
import { conditions, mode } from "../compute/live.ts";
import { circuit } from "../compute/netlist.ts";
import { FiguresTable } from "../controls/figures-table.tsx";
import { Failures, Worked } from "../controls/worked.tsx";
import { useFollowed } from "../long-work/follow.ts";
import { announce } from "../state/hand.ts";
import { dispatch, endStroke, files, keep, kept, sheet } from "../state/store.ts";
import type { Section } from "./section.ts";

const ID = "substitutes";
/** What is tried; an empty part is the first transistor, `also` is one that gets the same type with it. */
const tried = kept(ID, { part: "", also: "", type: "" });
/** Why the type could not be written into the netlist, and in place of what. */
const notFitted = signal({ message: "", of: "" });
/** Alike types that are named. */
const NEAREST = 6;

const transistors = (): readonly Part[] =>
  circuit.value?.parts.filter(({ kind }) => kind === "transistor") ?? [];
const partTried = (): Part | undefined =>
  transistors().find(({ name }) => name === tried.value.part) ?? transistors()[0];

/** Those that could get the same type with it. */
const companions = (part: Part): readonly Part[] => {
  const types = circuit.value?.types ?? {};
  const device = ({ type = "" }: Part) => types[type]?.device;
  return transistors().filter((each) => each.name !== part.name && device(each) === device(part));
};
const alsoTried = (part: Part): Part | undefined =>
  companions(part).find(({ name }) => name === tried.value.also);

const choose = (some: { part?: string; also?: string; type?: string }, stroke?: string) =>
  keep(ID, { ...tried.value, ...some }, stroke);

const together = (parts: readonly Part[]): string => parts.map(({ name }) => name).join(" and ");

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
  const { part, also = [], fitted } = one;
  const ofOne = (name: string) => {
    const before = operatingCells(fitted.transistors[name]!, fitted.ptot_watts);
    const now = operatingCells(candidate.transistors[name]!, candidate.ptot_watts);
    return OPERATING.map((what, k) => [`${name}, ${what}`, before[k]!, now[k]!, ""]);
  };
  return [...[part, ...also].flatMap(ofOne), ...pathRows(one, candidate)];
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
        caption={`${[one.part, ...(one.also ?? [])].join(" and ")}: ${type} in place of ${one.fitted.type}, in ${one.mode}`}
        head={[`in ${one.mode}`, `${one.fitted.type}, fitted`, `→ ${type}`, ""]}
        rows={comparedRows(one, candidate)}
      />
      <Notes candidate={candidate} />
    </>
  );
}

/** Writes the type into the netlist, in one step that is undone as any other change of it. */
function fit(parts: readonly Part[], type: string): void {
  const changes = refitted(files.value, sheet.value.main, parts, type);
  const of = `${together(parts)} ${type}`;
  notFitted.value = { message: "message" in changes ? changes.message : "", of };
  if ("message" in changes) return;
  endStroke();
  for (const change of changes) dispatch({ kind: "text", ...change }, `fit ${of}`);
  endStroke();
  announce(`${together(parts)} ${parts.length > 1 ? "are" : "is"} ${type} now; undo takes it back.`);
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

function Sockets({ part }: { readonly part: Part }) {
  return (
    <>
      <label for="socket">in place of</label>
      <select
        id="socket"
        value={part.name}
        onChange={({ currentTarget }) => choose({ part: currentTarget.value, also: "" })}
      >
        {transistors().map((each) => (
          <option key={each.name} value={each.name}>
            {each.name} {each.type}
          </option>
        ))}
      </select>
      <label for="socket-also">and of</label>
      <select
        id="socket-also"
        value={alsoTried(part)?.name ?? ""}
        onChange={({ currentTarget }) => choose({ also: currentTarget.value })}
      >
        <option value="">no other</option>
        {companions(part).map((each) => (
          <option key={each.name} value={each.name}>
            {each.name} {each.type}
          </option>
        ))}
      </select>
    </>
  );
}

/** One half of a push-pull stage alone is hardly what somebody means. */
function Half({ part }: { readonly part: Part }) {
  const half = circuit.value && otherHalf(circuit.value, part);
  if (half === undefined || tried.value.also !== "") return null;
  return (
    <p class="faint">
      {part.name} and {half.name} take turns on one transformer:{" "}
      <button type="button" class="word" onClick={() => choose({ also: half.name })}>
        try both together
      </button>
    </p>
  );
}

function Choice({ part, problem }: { readonly part: Part; readonly problem: string }) {
  const { type } = tried.value;
  const also = alsoTried(part);
  const parts = also === undefined ? [part] : [part, also];
  const nothing = type === "" || parts.every((each) => each.type === type);
  const { message, of } = notFitted.value;
  const unfit = of === `${together(parts)} ${type}` ? message : "";
  return (
    <>
      <p class="choices substitute">
        <Sockets part={part} />
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
          disabled={nothing || problem !== ""}
          onClick={() => fit(parts, type)}
        >
          fit it in the netlist
        </button>
      </p>
      <p id="type-problem" class="look" role="alert" hidden={problem === "" && unfit === ""}>
        {problem === "" ? "" : `No type to try: ${problem}${problem.endsWith("?") ? "" : "."}`}
        {unfit === "" ? "" : `Not fitted: ${unfit}. Write ${type} there by hand.`}
      </p>
      <Half part={part} />
      <Nearest key={`${part.name} ${part.type}`} part={part} />
    </>
  );
}

function asked() {
  const [now, part, { type }] = [circuit.value, partTried(), tried.value];
  if (now === undefined || part === undefined || type === "") return undefined;
  const also = alsoTried(part);
  if (type === part.type && (also === undefined || also.type === type)) return undefined;
  return { now, part, also, type, problem: typeProblem(now, part, type) ?? "" };
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
    const { now, part, also, type } = all;
    const sockets = { part: part.name, also: also?.name ?? "" };
    return { circuit: withTypes(now), conditions: conditions.value, ...sockets, type };
  });
  const part = partTried();
  if (part === undefined) return <p class="faint">The netlist has no transistor to replace.</p>;
  const { problem = "", type = "" } = question.value ?? {};
  const fitted = tried.value.type === part.type && question.value === undefined;
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
