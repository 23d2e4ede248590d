import { type Path, type Region, ringsOf } from "@oxturn/geometry";

/** A text that differs wherever paths differ, in number, order or any coordinate. */
export function fingerprint(paths: readonly Path[]): string {
	const whole = new Float64Array(1);
	const halves = new Uint32Array(whole.buffer);
	// Fowler, Noll and Vo's hash (1a) over whole words, twice with different offsets.
	let a = 0x811c9dc5;
	let b = 0x2f0b4c47;
	const takeWord = (word: number): void => {
		a = Math.imul(a ^ word, 0x01000193);
		b = Math.imul((b ^ word) + (a >>> 15), 0x01000193);
	};
	const take = (value: number): void => {
		whole[0] = value;
		takeWord(halves[0]!);
		takeWord(halves[1]!);
	};
	for (const path of paths) {
		take(path.length);
		for (const [x, y] of path) {
			take(x);
			take(y);
		}
	}
	return `${a | 0}.${b | 0}`;
}

/** The same of regions. */
export const regionsPrint = (regions: readonly Region[]): string => fingerprint(regions.flatMap(ringsOf));
