import type { ReadAnswer, ReadInput } from "../work/jobs/read.ts";
import { type Line, openLine } from "../work/line.ts";

/** Reading that takes longer than this is given up, ms: no floor that anybody drew takes so long. */
const PATIENCE = 20_000;

let line: Line | undefined;

/** Reads a text from outside, beside the page; `undefined` when that takes too long. */
export async function readText(input: ReadInput): Promise<ReadAnswer | undefined> {
	line ??= openLine();
	const reading = line;
	let timer: ReturnType<typeof setTimeout> | undefined;
	const tooLong = new Promise<undefined>((resolve) => {
		timer = setTimeout(() => {
			reading.stop();
			resolve(undefined);
		}, PATIENCE);
	});
	try {
		return await Promise.race([reading.run("read", input), tooLong]);
	} finally {
		clearTimeout(timer);
	}
}
