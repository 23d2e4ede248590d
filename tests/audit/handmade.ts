import type { Floor, Layout, LoopFeature, Manifold, Room } from "@oxturn/floor";
import type { Point } from "@oxturn/geometry";

/** Floors and pipes made by hand, by means of their own: nothing here is shared with what it tests. All in mm. */

export const rectangle = (x0: number, y0: number, x1: number, y1: number): readonly Point[] => [
	[x0, y0],
	[x1, y0],
	[x1, y1],
	[x0, y1],
];

export function roomOf(id: string, outer: readonly Point[], change: Partial<Room> = {}): Room {
	return {
		id,
		name: "",
		region: { outer, holes: [] },
		heated: true,
		spacing: 200,
		edgeDistance: 100,
		share: false,
		pattern: "auto",
		...change,
	};
}

export function manifoldAt(position: Point, change: Partial<Manifold> = {}): Manifold {
	return { id: "m1", position, facing: 90, portPitch: 50, ports: undefined, ...change };
}

/** A floor with a 16 mm pipe that bends at 80 mm, spacing 200 mm, tails 50 mm apart, loops up to 100 m. */
export function floorOf(rooms: readonly Room[], manifolds: readonly Manifold[], change: Partial<Floor> = {}): Floor {
	return {
		name: "by hand",
		system: {
			pipe: { outerDiameter: 16, wallThickness: 2, minBendRadius: 80 },
			maxLoopLength: 100,
			spacing: 200,
			edgeDistance: undefined,
			tailSpacing: 50,
		},
		rooms,
		doorways: [],
		keepouts: [],
		manifolds,
		...change,
	};
}

export const lengthOf = (path: readonly Point[]): number =>
	path.reduce((sum, [x, y], i) => (i === 0 ? 0 : sum + Math.hypot(x - path[i - 1]![0], y - path[i - 1]![1])), 0);

export function loopOf(
	id: string,
	coordinates: readonly Point[],
	change: Partial<LoopFeature["properties"]> = {},
): LoopFeature {
	return {
		type: "Feature",
		id,
		geometry: { type: "LineString", coordinates },
		properties: {
			kind: "loop",
			manifold: "m1",
			port: 1,
			rooms: ["r1"],
			pattern: "serpentine",
			spacing: 200,
			length: lengthOf(coordinates) / 1000,
			...change,
		},
	};
}

export function layoutOf(features: readonly LoopFeature[], change: Partial<Layout> = {}): Layout {
	return { type: "FeatureCollection", units: "mm", name: "by hand", features, channels: [], notices: [], ...change };
}

/** Rounds every corner to `radius`, or as large as half its sides allow, by chords at most 0.5 mm off the arc. */
export function roundCorners(corners: readonly Point[], radius: number): Point[] {
	const path: Point[] = [corners[0]!];
	for (let i = 1; i + 1 < corners.length; i++) {
		const [ax, ay] = corners[i - 1]!;
		const [x, y] = corners[i]!;
		const [bx, by] = corners[i + 1]!;
		const into = Math.atan2(y - ay, x - ax);
		const out = Math.atan2(by - y, bx - x);
		const turn = Math.atan2(Math.sin(out - into), Math.cos(out - into));
		const sideA = Math.hypot(x - ax, y - ay) / (i === 1 ? 1 : 2);
		const sideB = Math.hypot(bx - x, by - y) / (i + 2 === corners.length ? 1 : 2);
		const slope = Math.tan(Math.abs(turn) / 2);
		const r = Math.min(radius, sideA / slope, sideB / slope);
		if (Math.abs(turn) < 1e-9 || r < 1) {
			path.push([x, y]);
			continue;
		}
		const sense = Math.sign(turn);
		const startX = x - r * slope * Math.cos(into);
		const startY = y - r * slope * Math.sin(into);
		const centreX = startX - sense * r * Math.sin(into);
		const centreY = startY + sense * r * Math.cos(into);
		const chords = Math.ceil(Math.abs(turn) / (2 * Math.acos(1 - 0.5 / r)));
		for (let k = 0; k <= chords; k++) {
			const heading = into + (turn * k) / chords;
			path.push([centreX + sense * r * Math.sin(heading), centreY - sense * r * Math.cos(heading)]);
		}
	}
	path.push(corners.at(-1)!);
	return path;
}

/** Goes round a spine at `half` on either side: out along its left, back along its right. Corners stay sharp. */
export function roundSpine(spine: readonly Point[], half: number): Point[] {
	const side = (sign: number): Point[] =>
		spine.map(([x, y], i) => {
			const [ax, ay] = spine[Math.max(0, i - 1)]!;
			const [bx, by] = spine[Math.min(spine.length - 1, i + 1)]!;
			const into = i === 0 ? Math.atan2(by - y, bx - x) : Math.atan2(y - ay, x - ax);
			const out = i === spine.length - 1 ? into : Math.atan2(by - y, bx - x);
			const reach = (sign * half) / Math.cos((out - into) / 2);
			const heading = (into + out) / 2;
			return [x - reach * Math.sin(heading), y + reach * Math.cos(heading)];
		});
	return [...side(1), ...side(-1).reverse()];
}

/** Lanes to and fro across a width x height rectangle, from (spacing, 0). */
export function zigzagSpine(width: number, height: number, spacing: number): Point[] {
	const spine: Point[] = [[spacing, 0]];
	let isLeft = true;
	for (let y = spacing; y <= height - spacing + 1e-9; y += 2 * spacing) {
		const near = isLeft ? spacing : width - spacing;
		spine.push([near, y], [width - near, y]);
		isLeft = !isLeft;
	}
	return spine;
}

/** Lanes inwards along the walls of a width x height rectangle, from (spacing, 0). */
export function spiralSpine(width: number, height: number, spacing: number): Point[] {
	const spine: Point[] = [[spacing, 0]];
	for (let inset = spacing; ; inset += 2 * spacing) {
		const nextInset = inset + 2 * spacing;
		if (height - 2 * inset < 2 * spacing) break;
		spine.push([inset, height - inset]);
		if (width - 2 * inset < 2 * spacing) break;
		spine.push([width - inset, height - inset]);
		spine.push([width - inset, inset]);
		if (width - inset - nextInset < 2 * spacing) break;
		spine.push([nextInset, inset]);
	}
	return spine;
}

/** Turns about the origin by `angle` rad and then shifts. */
export const moved =
	(angle: number, dx: number, dy: number) =>
	([x, y]: Point): Point => [
		x * Math.cos(angle) - y * Math.sin(angle) + dx,
		x * Math.sin(angle) + y * Math.cos(angle) + dy,
	];
