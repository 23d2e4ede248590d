/** The first so many; the others are not asked for. */
export function take<Item>(all: Iterable<Item>, most: number): Item[] {
	const taken: Item[] = [];
	for (const one of all) if (taken.push(one) >= most) break;
	return taken;
}
