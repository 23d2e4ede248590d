import { printable } from "./failure.ts";
import type { Terminal } from "./terminal.ts";

export interface Progress {
	/** Shows how many are done, and the name of the one in hand. */
	readonly show: (done: number, name: string) => void;
	/** Takes the bar away, so that a line can be written in its place. */
	readonly clear: () => void;
}

const CELLS = 24;
const NAME = 40;

/** A bar on standard error that is overwritten in place; none where nobody could see it move. */
export function progressBar(total: number, terminal: Terminal): Progress {
	if (!terminal.isInteractive) return { show: () => {}, clear: () => {} };
	return {
		show: (done, name) => {
			const filled = Math.round((CELLS * done) / total);
			const bar = `${"#".repeat(filled)}${"-".repeat(CELLS - filled)}`;
			terminal.error(`\r\u001b[K[${bar}] ${done}/${total} ${printable(name).slice(0, NAME)}`);
		},
		clear: () => terminal.error("\r\u001b[K"),
	};
}
