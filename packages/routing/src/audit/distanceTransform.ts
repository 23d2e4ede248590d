/**
 * Squared distance, in cells, from the centre of each cell to the nearest centre of a cell where `inside` is 0
 * (row by row); infinite everywhere when there is no such cell. Exact, in time linear in the number of cells:
 * A. Meijster, J. Roerdink, W. Hesselink, "A general algorithm for computing distance transforms in linear
 * time" (2000), Euclidean case.
 */
export function distanceTransform(inside: Uint8Array, columns: number, rows: number): Float64Array {
	const distance2 = new Float64Array(columns * rows);
	const far = columns + rows;
	const vertical = distancesInColumns(inside, columns, rows, far);
	// lower envelope of the parabolas (x - site)^2 + vertical[site]^2; each site rules from its start on
	const site = new Int32Array(columns);
	const start = new Int32Array(columns);
	for (let row = 0; row < rows; row++) {
		const offset = row * columns;
		const height2 = (x: number): number => vertical[offset + x]! ** 2;
		let top = 0;
		site[0] = 0;
		start[0] = 0;
		for (let x = 1; x < columns; x++) {
			const own = height2(x);
			while (top >= 0) {
				const t = start[top]!;
				const s = site[top]!;
				if ((t - s) ** 2 + height2(s) <= (t - x) ** 2 + own) break;
				top--;
			}
			if (top < 0) {
				top = 0;
				site[0] = x;
				continue;
			}
			const s = site[top]!;
			const from = 1 + Math.floor((x * x - s * s + own - height2(s)) / (2 * (x - s)));
			if (from >= columns) continue;
			top++;
			site[top] = x;
			start[top] = from;
		}
		for (let x = columns - 1; x >= 0; x--) {
			const s = site[top]!;
			distance2[offset + x] = vertical[offset + s]! >= far ? Infinity : (x - s) ** 2 + height2(s);
			if (x === start[top]) top--;
		}
	}
	return distance2;
}

/** Cells to the nearest cell where `inside` is 0 in the same column; at least `far` where there is none. */
function distancesInColumns(inside: Uint8Array, columns: number, rows: number, far: number): Int32Array {
	const distance = new Int32Array(columns * rows);
	for (let i = 0; i < columns * rows; i++) {
		if (inside[i]) distance[i] = i < columns ? far : distance[i - columns]! + 1;
	}
	for (let i = columns * (rows - 1) - 1; i >= 0; i--) {
		const below = distance[i + columns]! + 1;
		if (below < distance[i]!) distance[i] = below;
	}
	return distance;
}
