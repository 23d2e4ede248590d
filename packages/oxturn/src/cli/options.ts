import type { PatternName, RouteOptions } from "../index.ts";
import type { Call, Option } from "./command.ts";
import { Failure } from "./failure.ts";

/** Options of every command that routes. */
export const searchOptions = {
	seed: { value: "NUMBER", help: "The same seed gives the same layout. So far every seed gives the same. Default 1." },
	"time-budget": {
		value: "MS",
		help: "Stop looking for something better after so many milliseconds; a first layout is finished, 0 for that alone. Default: no limit.",
	},
} as const satisfies Record<string, Option>;

/** Options of every command that lays one layout. */
export const routeOptions = {
	pattern: { value: "NAME", help: "serpentine, spiral or auto for every room. Default: what each room asks for." },
	...searchOptions,
} as const satisfies Record<string, Option>;

const PATTERNS: readonly PatternName[] = ["serpentine", "spiral", "auto"];

/** The text of an option that takes a value. */
export function textOf(call: Call, name: string): string | undefined {
	const value = call.options[name];
	return typeof value === "string" ? value : undefined;
}

/** Reads what a call says about routing. */
export function readRouteOptions(call: Call): RouteOptions {
	const pattern = textOf(call, "pattern");
	const seed = numberOf(call, "seed", 0);
	const timeBudget = numberOf(call, "time-budget", 0);
	const known = PATTERNS.find((name) => name === pattern);
	if (pattern !== undefined && !known)
		throw new Failure(`--pattern: found ${JSON.stringify(pattern)}, expected ${PATTERNS.join(", ")}.`);
	return {
		...(known ? { pattern: known } : {}),
		...(seed === undefined ? {} : { seed }),
		...(timeBudget === undefined ? {} : { timeBudget }),
	};
}

/** The whole number that an option gives, `least` or more. */
export function numberOf(call: Call, name: string, least: number): number | undefined {
	const text = textOf(call, name);
	if (text === undefined) return undefined;
	const value = Number(text);
	if (!/^\d+$/.test(text) || !Number.isSafeInteger(value) || value < least)
		throw new Failure(`--${name}: found ${JSON.stringify(text)}, expected a whole number from ${least}.`);
	return value;
}
