/*
 * Takes the least of many items one by one, where only the first few are likely to be wanted: for those a heap takes
 * far less work than sorting them all.
 */

/** Gives the index of the least of some values, then of the next, and so on; of equal ones the first; -1 at the end. */
export function leastFirst(values: Float64Array): () => number {
	let size = values.length;
	const heap = new Int32Array(size);
	for (let i = 0; i < size; i++) heap[i] = i;
	const isBefore = (a: number, b: number): boolean => values[a]! < values[b]! || (values[a] === values[b] && a < b);
	/** Lets an item sink from a place in the heap until none below it comes before it. */
	const sink = (item: number, from: number): void => {
		let place = from;
		for (let below = 2 * place + 1; below < size; below = 2 * place + 1) {
			if (below + 1 < size && isBefore(heap[below + 1]!, heap[below]!)) below++;
			if (isBefore(item, heap[below]!)) break;
			heap[place] = heap[below]!;
			place = below;
		}
		heap[place] = item;
	};
	for (let place = (size >> 1) - 1; place >= 0; place--) sink(heap[place]!, place);
	return () => {
		if (size === 0) return -1;
		const least = heap[0]!;
		size--;
		if (size > 0) sink(heap[size]!, 0);
		return least;
	};
}
