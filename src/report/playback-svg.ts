/** Playback as the tape sees it, drawn: gain with its target and field, and the deviation from flat. */
import type { PlaybackResponse } from "../bench/playback.ts";
import { drawing, head } from "./drawing.ts";
import { pathLabels } from "./labels.ts";
import { type FieldEdge, LEFT, type LevelPanel, levelPanels, WIDTH } from "./level-panels.ts";
import { finiteDecibels, hertz as hertzText, SILENCE_DB } from "./numbers.ts";
import { side, tapeText, verdict } from "./tape-words.ts";

const GAIN_HEIGHT = 260;
const OFF_HEIGHT = 170;
/** Deviations beyond this leave the panel, dB. */
const REACH = 15;
/** Targets so far above or below all gains leave the panel, dB. */
const BEYOND = 40;

interface Limits {
  readonly hertz: number;
  readonly middle: number;
  readonly least: number;
  readonly greatest: number;
}

/** Where two bands of a field meet it is drawn with a step, at the frequency from which the narrower holds. */
function stepped(limits: readonly Limits[]): readonly Limits[] {
  return limits.flatMap((limit, i) => {
    const next = limits[i + 1];
    if (next === undefined) return [limit];
    const grows = next.greatest - next.least - (limit.greatest - limit.least);
    if (Math.abs(grows) < 1e-9) return [limit];
    if (grows > 0) return [limit, { ...limit, least: next.least, greatest: next.greatest }];
    return [limit, { ...next, least: limit.least, greatest: limit.greatest }];
  });
}

/** The field about `middle` (dB at each frequency), ascending; nothing where it has no limits. */
export function fieldAbout(
  { hertz, tape }: PlaybackResponse,
  middle: (i: number) => number,
): readonly FieldEdge[] {
  const { least_db, greatest_db } = tape.field;
  const limits = hertz.flatMap((f, i): Limits[] => {
    const [least, greatest] = [least_db[i], greatest_db[i]];
    if (typeof least !== "number" || typeof greatest !== "number") return [];
    return [{ hertz: f, middle: middle(i), least, greatest }];
  });
  return stepped(limits.toSorted((a, b) => a.hertz - b.hertz)).map((limit) => ({
    hertz: limit.hertz,
    least: limit.middle + limit.least,
    greatest: limit.middle + limit.greatest,
  }));
}

const points = (hertz: readonly number[], levels: readonly number[]) =>
  hertz.map((f, i) => ({ hertz: f, gain: finiteDecibels(levels[i]!) })).sort((a, b) => a.hertz - b.hertz);

const outsideField = (response: PlaybackResponse, levels: readonly number[], stroke: number) =>
  response.hertz.flatMap((f, i) =>
    side(response.tape, i) === 0 ? [] : [{ hertz: f, gain: levels[i]!, stroke }],
  );

/** Where the head has a null no gain is enough: a target beyond these limits leaves the panel. */
function reachOf(responses: readonly PlaybackResponse[]): readonly [number, number] {
  const gains = responses.flatMap(({ gain_db }) => gain_db.filter((gain) => gain > SILENCE_DB));
  return [Math.min(...gains) - BEYOND, Math.max(...gains) + BEYOND];
}

function gainPanel(
  responses: readonly PlaybackResponse[],
  closer: readonly PlaybackResponse[],
  labels: readonly string[],
): LevelPanel {
  const mixed = new Set(responses.map(({ quantity }) => quantity)).size > 1;
  const one = responses[0]?.quantity === "current" ? "dB re 1 A/V" : "dB re 1 V/V";
  return {
    name: "Gain",
    unit: mixed ? "dB re 1 V/V or 1 A/V" : one,
    height: GAIN_HEIGHT,
    reach: reachOf(responses),
    curves: closer.flatMap(({ hertz, gain_db, tape }, i) => [
      { label: labels[i]!, stroke: i, points: points(hertz, gain_db) },
      { label: "target", stroke: "target" as const, points: points(hertz, tape.target_db) },
    ]),
    fields: responses.map((response, stroke) => ({
      stroke,
      edges: fieldAbout(response, (i) => response.tape.target_db[i]!),
    })),
    rings: responses.flatMap((response, i) => outsideField(response, response.gain_db, i)),
  };
}

function offPanel(
  responses: readonly PlaybackResponse[],
  closer: readonly PlaybackResponse[],
  labels: readonly string[],
): LevelPanel {
  const reference = responses[0]?.tape.reference_hertz ?? 1000;
  return {
    name: "Deviation from flat",
    unit: `dB re ${hertzText(reference)}`,
    height: OFF_HEIGHT,
    curves: closer.map(({ hertz, tape }, i) => ({
      label: labels[i]!,
      stroke: i,
      points: points(hertz, tape.deviation_db),
    })),
    reach: [-REACH, REACH],
    fields: responses
      .map((response, stroke) => ({ stroke, edges: fieldAbout(response, () => 0) }))
      .filter(({ edges }, i, all) => all.findIndex((other) => same(other.edges, edges)) === i),
    rings: responses.flatMap((response, i) => outsideField(response, response.tape.deviation_db, i)),
  };
}

const same = (a: readonly FieldEdge[], b: readonly FieldEdge[]) => JSON.stringify(a) === JSON.stringify(b);

/**
 * Gain of each path, the gain at which the tape would play back flat (thin) with its tolerance field, and
 * below the deviation from flat; rings mark what lies outside. `closer` are the same at more frequencies, for
 * the curves. An SVG document.
 */
export function playbackSvg(
  responses: readonly PlaybackResponse[],
  { title, conditions }: { readonly title: string; readonly conditions: readonly string[] },
  closer: readonly PlaybackResponse[] = responses,
): string {
  const labels = pathLabels(responses);
  const tape = responses[0] === undefined ? [] : [tapeText(responses[0].tape)];
  const top = head(title, [...tape, ...conditions], LEFT);
  const panels = levelPanels(
    [gainPanel(responses, closer, labels), offPanel(responses, closer, labels)],
    top.bottom,
  );
  const description = responses.map((response, i) => `${labels[i]}: ${verdict(response)}.`).join(" ");
  return drawing(
    { width: WIDTH, height: panels.bottom },
    { title: `Playback of a tape: ${title}`, description },
    top.markup,
    panels.markup,
  );
}
