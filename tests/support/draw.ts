/** Choices that come out alike for the same seed, whatever the machine. */
export interface Draw {
	/** 0 to 1, without 1. */
	readonly share: () => number;
	readonly chance: (probability: number) => boolean;
	/** Between the two, both included, in steps of `step`. */
	readonly whole: (min: number, max: number, step?: number) => number;
	readonly pick: <T>(list: readonly T[]) => T;
	/** The same things in any order. */
	readonly shuffle: <T>(list: readonly T[]) => T[];
}

/** A 32-bit counter, its bits well mixed (Mulberry32, public domain). */
export function drawFrom(seed: number): Draw {
	let state = seed >>> 0;
	const share = (): number => {
		state = (state + 0x6d2b79f5) >>> 0;
		let mixed = Math.imul(state ^ (state >>> 15), state | 1);
		mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
		return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
	};
	return {
		share,
		chance: (probability) => share() < probability,
		whole: (min, max, step = 1) => min + step * Math.floor(share() * (Math.floor((max - min) / step) + 1)),
		pick: (list) => list[Math.floor(share() * list.length)]!,
		shuffle: (list) =>
			list
				.map((each) => ({ each, key: share() }))
				.sort((a, b) => a.key - b.key)
				.map(({ each }) => each),
	};
}
