/*
 * Rows of yes and no, 32 to a word: a span of a row is set in a few steps, whatever its length, and what two rows have
 * in common is counted 32 at a time.
 */

/** Words that so many bits take. */
export const wordsFor = (bits: number): number => Math.ceil(bits / 32);

/** Sets the bits `from` up to and with `to` of the row that begins at word `start`. */
export function setBits(bits: Int32Array, start: number, from: number, to: number): void {
	const first = start + (from >> 5);
	const last = start + (to >> 5);
	const head = -1 << (from & 31);
	const tail = -1 >>> (31 - (to & 31));
	if (first === last) {
		bits[first]! |= head & tail;
		return;
	}
	bits[first]! |= head;
	for (let word = first + 1; word < last; word++) bits[word] = -1;
	bits[last]! |= tail;
}

/** How many bits of a word are set. */
export function countBits(word: number): number {
	// Sums of neighbouring bits, then of pairs, fours and all bytes.
	const pairs = word - ((word >>> 1) & 0x55555555);
	const fours = (pairs & 0x33333333) + ((pairs >>> 2) & 0x33333333);
	return Math.imul((fours + (fours >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}
