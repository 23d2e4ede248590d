import { boundingBox, distance, type Path, type Point, type Region, ringsOf } from "@oxturn/geometry";

/*
 * A coarse map of a floor to compare fields by: how much of it lies farther from a pipe than it should. The audit
 * measures finished layouts with code of its own.
 */

export interface FloorMap {
	readonly x: number;
	readonly y: number;
	readonly cell: number;
	readonly columns: number;
	readonly rows: number;
	/** 1 where there is floor. */
	readonly mask: Uint8Array;
	readonly cells: number;
}

/** Marks the cells whose centres lie on the floor. */
export function mapFloor(floor: readonly Region[], cell: number): FloorMap {
	const rings = floor.flatMap((region) => ringsOf(region));
	const [x0, y0, x1, y1] = boundingBox(rings.flat());
	const columns = Math.max(1, Math.ceil((x1 - x0) / cell));
	const rows = Math.max(1, Math.ceil((y1 - y0) / cell));
	const mask = new Uint8Array(Number.isFinite(columns * rows) ? columns * rows : 0);
	let cells = 0;
	for (let j = 0; j < rows && mask.length > 0; j++) {
		const y = y0 + (j + 0.5) * cell;
		const crossings: number[] = [];
		for (const ring of rings)
			for (let i = 0; i < ring.length; i++) {
				const a = ring[i]!;
				const b = ring[(i + 1) % ring.length]!;
				if (a[1] > y !== b[1] > y) crossings.push(a[0] + ((y - a[1]) * (b[0] - a[0])) / (b[1] - a[1]));
			}
		crossings.sort((a, b) => a - b);
		for (let k = 0; k + 1 < crossings.length; k += 2) {
			const from = Math.max(0, Math.ceil((crossings[k]! - x0) / cell - 0.5));
			const to = Math.min(columns - 1, Math.floor((crossings[k + 1]! - x0) / cell - 0.5));
			for (let i = from; i <= to; i++) {
				mask[j * columns + i] = 1;
				cells++;
			}
		}
	}
	return { x: x0, y: y0, cell, columns, rows, mask, cells };
}

export interface Shortfall {
	/** Share of the floor farther than 0.55 spacing from a pipe. */
	readonly beyond055: number;
	/** Share of the floor farther than one spacing from a pipe. */
	readonly beyond100: number;
}

/** Leaves out points nearer than `step` mm to the one before: small arcs do not show on a coarse map. */
export function coarse(path: Path, step: number): Path {
	const kept: Point[] = [];
	for (const [i, p] of path.entries()) {
		const last = kept[kept.length - 1];
		if (!last || i === path.length - 1 || distance(last, p) >= step) kept.push(p);
	}
	return kept;
}

/** How much of the mapped floor the pipes leave cold. */
export function shortfall(map: FloorMap, pipes: readonly Path[], spacing: number): Shortfall {
	const { columns, rows, cell, mask } = map;
	const nearest = new Float32Array(columns * rows).fill(Infinity);
	const reach = spacing + cell;
	for (const whole of pipes) {
		const pipe = coarse(whole, cell);
		for (let s = 1; s < pipe.length; s++) {
			const [ax, ay] = pipe[s - 1]!;
			const [bx, by] = pipe[s]!;
			const i0 = Math.max(0, Math.floor((Math.min(ax, bx) - reach - map.x) / cell));
			const i1 = Math.min(columns - 1, Math.floor((Math.max(ax, bx) + reach - map.x) / cell));
			const j0 = Math.max(0, Math.floor((Math.min(ay, by) - reach - map.y) / cell));
			const j1 = Math.min(rows - 1, Math.floor((Math.max(ay, by) + reach - map.y) / cell));
			const dx = bx - ax;
			const dy = by - ay;
			const length2 = dx * dx + dy * dy || 1;
			// On long slanting runs only the cells beside the run are visited.
			const slope = Math.abs(dx) > 1e-9 ? Math.abs(dy / dx) : Infinity;
			const steep = slope > 1e-3 && slope < 1e3 && Math.hypot(dx, dy) > 4 * reach;
			const spread = (reach * Math.hypot(dx, dy)) / Math.max(Math.abs(dy), 1e-9);
			for (let j = j0; j <= j1; j++) {
				const y = map.y + (j + 0.5) * cell;
				let from = i0;
				let to = i1;
				if (steep) {
					const t = Math.max(0, Math.min(1, (y - ay) / dy));
					from = Math.max(i0, Math.floor((ax + t * dx - spread - map.x) / cell));
					to = Math.min(i1, Math.floor((ax + t * dx + spread - map.x) / cell));
				}
				for (let i = from; i <= to; i++) {
					const at = j * columns + i;
					if (mask[at] === 0) continue;
					const px = map.x + (i + 0.5) * cell - ax;
					const py = y - ay;
					let t = (px * dx + py * dy) / length2;
					t = t < 0 ? 0 : t > 1 ? 1 : t;
					const ex = px - t * dx;
					const ey = py - t * dy;
					const d = ex * ex + ey * ey;
					if (d < nearest[at]!) nearest[at] = d;
				}
			}
		}
	}
	const near = (0.55 * spacing) ** 2;
	const far = spacing ** 2;
	let beyond055 = 0;
	let beyond100 = 0;
	for (let at = 0; at < nearest.length; at++) {
		if (mask[at] === 0) continue;
		if (nearest[at]! > near) beyond055++;
		if (nearest[at]! > far) beyond100++;
	}
	const cells = Math.max(1, map.cells);
	return { beyond055: beyond055 / cells, beyond100: beyond100 / cells };
}
