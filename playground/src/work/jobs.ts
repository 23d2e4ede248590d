import { draw } from "./jobs/draw.ts";
import { measure } from "./jobs/measure.ts";
import { read } from "./jobs/read.ts";
import { route } from "./jobs/route.ts";
import { samples } from "./jobs/samples.ts";
import { warmth } from "./jobs/warmth.ts";
import { writeLayout } from "./jobs/writeLayout.ts";

/** Tells how far a job has come, from 0 to 1. */
export type Tell = (fraction: number) => void;

/**
 * Everything that is worked out beside the page, so that the page never waits. A new job is one function in `jobs/` and
 * one line here: plain data in, plain data out.
 */
export const jobs = { route, read, draw, writeLayout, warmth, measure, samples };

export type JobName = keyof typeof jobs;
export type JobInput<N extends JobName> = Parameters<(typeof jobs)[N]>[0];
export type JobAnswer<N extends JobName> = ReturnType<(typeof jobs)[N]>;

/** What the page sends. */
export interface JobCall {
	readonly call: number;
	readonly job: JobName;
	readonly input: unknown;
}

/** What the worker sends back, any number of fractions first. */
export type JobReply =
	| { readonly call: number; readonly fraction: number }
	| { readonly call: number; readonly answer: unknown }
	| { readonly call: number; readonly failure: string };
