/** "1 loop", "2 loops": a number with its noun, for nouns that take an s. */
export function counted(count: number, noun: string): string {
	return `${count} ${noun}${count === 1 ? "" : "s"}`;
}
