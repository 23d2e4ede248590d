import * as v from "valibot";
import { describeValue } from "./describe.ts";
import type { Problem } from "./problems.ts";

/** The part of an issue that a message needs. */
interface Found {
	readonly input: unknown;
	readonly path?: readonly { readonly key: unknown }[] | undefined;
}

/** A message that says what was found, what was `expected`, and what to do. */
export function expected(what: string, advice = ""): (found: Found) => string {
	return ({ input }) => `found ${describeValue(input)}, expected ${what}.${advice && ` ${advice}`}`;
}

/** A number from `min` to `max` in `unit`. */
export function numberBetween(min: number, max: number, unit: string, advice = "") {
	const message = expected(`a number from ${min} to ${max}${unit && ` ${unit}`}`, advice);
	return v.pipe(v.number(message), v.minValue(min, message), v.maxValue(max, message));
}

/** A text, which may be empty. */
export function text(what: string, advice = "") {
	return v.string(expected(what, advice));
}

/** A text that is not empty. */
export function filledText(what: string, advice = "") {
	const message = expected(what, advice);
	return v.pipe(v.string(message), v.nonEmpty(message));
}

/** One of a few words. */
export function oneOf<const Words extends readonly string[]>(words: Words, advice = "") {
	return v.picklist(words, expected(words.map((word) => `"${word}"`).join(" or "), advice));
}

/** Whether the value is an object with members, rather than an array or nothing. */
export function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
	return typeof value === "object" && value !== null && !Array.isArray(value);
}

/**
 * An object with these members and any others. `required` says, for each member that may not be missing, what was
 * expected there.
 */
export function members<Entries extends v.ObjectEntries>(
	what: string,
	entries: Entries,
	required: Readonly<Record<string, string>> = {},
) {
	const message = (found: Found): string => {
		const key = String(found.path?.at(-1)?.key ?? "");
		return `found ${describeValue(found.input)}, expected ${required[key] ?? `${what}.`}`;
	};
	return v.pipe(v.custom<Readonly<Record<string, unknown>>>(isRecord, expected(what)), v.looseObject(entries, message));
}

/** The member `key` of a value that may be anything; `undefined` where there is none. */
export function memberOf(value: unknown, key: string): unknown {
	return isRecord(value) && Object.hasOwn(value, key) ? value[key] : undefined;
}

/**
 * Reads one part of a document: its value when it is in order, else `undefined` and problems for `subject` added to
 * `problems`. Of several problems whose paths begin with the same `groupDepth` members only the first is told, with
 * how many more there are: ten thousand positions that are all wrong have one cause.
 */
export function readPart<Schema extends v.GenericSchema>(
	schema: Schema,
	input: unknown,
	subject: string,
	prefix: string,
	problems: Problem[],
	groupDepth = Infinity,
): v.InferOutput<Schema> | undefined {
	const result = v.safeParse(schema, input);
	if (result.success) return result.output;
	const groups = new Map<string, { problem: Problem; more: number }>();
	for (const issue of result.issues) {
		const path = issue.path?.map(({ key }) => String(key)) ?? [];
		const name = path.slice(0, groupDepth).join(".");
		const group = groups.get(name);
		const member = [prefix, ...path].filter(Boolean).join(".") || subject;
		if (group) {
			// a member that fails two checks is told by the first
			if (group.problem.member !== member) group.more++;
			continue;
		}
		groups.set(name, { problem: { subject, member, message: issue.message }, more: 0 });
	}
	for (const { problem, more } of groups.values())
		problems.push(more === 0 ? problem : { ...problem, message: `${problem.message} (${more} more like it.)` });
	return undefined;
}
