/** How many loop colours the tokens hold. */
const COLOURS = 8;

/** Class that gives the loop at `index` its colour; colours come round again, ids do not. */
export function colourOf(index: number): string {
	return `loop-colour-${(index % COLOURS) + 1}`;
}
