import { describeValue } from "./describe.ts";
import { DOCUMENT, type Problem } from "./problems.ts";

/** What JSON can be made of, from the place where it is looked for. */
const TOKEN =
	/[{}[\],:]|"(?:[ !#-[\]-\uffff]|\\(?:["\\/bfnrt]|u[\da-fA-F]{4}))*"|-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null/y;
const SPACE = /[ \t\n\r]*/y;
const WORD = /[\w$.+-]+|"[^\n]*|[^\s]/y;

interface Mistake {
	readonly offset: number;
	readonly expected: string;
}

type Wanted = keyof typeof wanted;

const wanted = {
	value: "a value",
	valueOrEnd: "a value or ]",
	key: "a member's name in double quotes",
	keyOrEnd: "a member's name in double quotes, or }",
	colon: "a colon",
	more: "a comma or the end of the list or object",
	nothing: "the end of the text",
} as const;

/**
 * The first place where `text` stops being JSON, or `undefined` when it does not. `JSON.parse` says only on some
 * engines where it stopped, and then in its own words.
 */
function findMistake(text: string): Mistake | undefined {
	const open: string[] = [];
	let next: Wanted = "value";
	let offset = 0;
	for (;;) {
		SPACE.lastIndex = offset;
		offset += SPACE.exec(text)?.[0].length ?? 0;
		const mistake = { offset, expected: wanted[next] };
		if (offset === text.length) return next === "nothing" ? undefined : mistake;
		TOKEN.lastIndex = offset;
		const token = TOKEN.exec(text)?.[0];
		if (token === undefined) return mistake;
		offset += token.length;

		const afterValue = (): Wanted => (open.length === 0 ? "nothing" : "more");
		if (token === "}" || token === "]") {
			const canEnd = next === "more" || next === (token === "]" ? "valueOrEnd" : "keyOrEnd");
			if (!canEnd || open.pop() !== token) return mistake;
			next = afterValue();
		} else if (token === ",") {
			if (next !== "more") return mistake;
			next = open.at(-1) === "}" ? "key" : "value";
		} else if (token === ":") {
			if (next !== "colon") return mistake;
			next = "value";
		} else if (next === "key" || next === "keyOrEnd") {
			if (!token.startsWith('"')) return mistake;
			next = "colon";
		} else if (next === "value" || next === "valueOrEnd") {
			if (token === "{" || token === "[") {
				open.push(token === "{" ? "}" : "]");
				next = token === "{" ? "keyOrEnd" : "valueOrEnd";
			} else next = afterValue();
		} else return mistake;
	}
}

/** Parses JSON text, or says in which line and column (both from 1) it stops being JSON. A byte order mark is skipped. */
export function parseJson(text: string): { readonly value: unknown } | { readonly problem: Problem } {
	const body = text.startsWith("\uFEFF") ? text.slice(1) : text;
	try {
		return { value: JSON.parse(body) };
	} catch {
		const { offset, expected } = findMistake(body) ?? { offset: body.length, expected: "JSON" };
		const lines = body.slice(0, offset).split("\n");
		WORD.lastIndex = offset;
		const found = offset === body.length ? "the end of the text" : describeValue(WORD.exec(body)?.[0] ?? body[offset]);
		const place = `line ${lines.length}, column ${lines.at(-1)!.length + 1}`;
		const advice =
			body.trim() === "" ? "The text is empty: put a document in it." : "The text is no JSON: correct it there.";
		const message = `found ${found} in ${place}, expected ${expected}. ${advice}`;
		return { problem: { subject: DOCUMENT, member: place, message } };
	}
}
