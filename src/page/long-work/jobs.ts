/**
 * What a worker can do: one function a name, from plain data and a word of progress to plain data. A new job is
 * a function and a line here.
 */
import { alikeJob } from "./alike.ts";
import { influencesJob } from "./influences.ts";
import { oscillationJob } from "./oscillation.ts";
import { regulationJob } from "./regulation.ts";
import { spreadJob } from "./spread.ts";
import { stagesJob } from "./stages.ts";
import { substituteJob } from "./substitute.ts";
import { suspectsJob } from "./suspects.ts";
import { waveformJob } from "./waveform.ts";

/** Told how far a job has come, 0 … 1. */
export type Progress = (share: number) => void;

/** Work in steps, each telling how far it has come, 0 … 1; whoever answers true gets what there is. */
export type Steps<Output> = Generator<number, Output, boolean | undefined>;

/** A job: what it is given and gives back can be cloned to and from a worker. */
export type Job<Input, Output> = (input: Input, progress: Progress) => Output | Steps<Output>;

export const JOBS = {
  spread: spreadJob,
  influences: influencesJob,
  suspects: suspectsJob,
  stages: stagesJob,
  alike: alikeJob,
  substitute: substituteJob,
  oscillation: oscillationJob,
  waveform: waveformJob,
  regulation: regulationJob,
} satisfies Record<string, Job<never, unknown>>;

export type JobName = keyof typeof JOBS;
export type InputOf<Name extends JobName> = Parameters<(typeof JOBS)[Name]>[0];
type Given<Answer> = Answer extends Steps<infer Output> ? Output : Answer;
export type OutputOf<Name extends JobName> = Given<ReturnType<(typeof JOBS)[Name]>>;
