/** The first so many; the others are not asked for. */
export function take<T>(all: Iterable<T>, most: number): T[] {
	const taken: T[] = [];
	for (const one of all) if (taken.push(one) >= most) break;
	return taken;
}
