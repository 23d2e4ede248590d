import type { Floor, Keepout, Layout, LoopFeature, LoopProperties, Room } from "@oxturn/floor";
import type { Point, Region } from "@oxturn/geometry";

export function rectangle(left: number, bottom: number, right: number, top: number): Point[] {
	return [
		[left, bottom],
		[right, bottom],
		[right, top],
		[left, top],
	];
}

export function region(outer: readonly Point[], holes: readonly (readonly Point[])[] = []): Region {
	return { outer, holes };
}

export function room(id: string, name: string, shape: Region, more: Partial<Room> = {}): Room {
	return {
		id,
		name,
		region: shape,
		heated: true,
		spacing: 200,
		edgeDistance: 100,
		share: false,
		pattern: "auto",
		...more,
	};
}

/** A polyline whose right-angled corners are arcs of `radius` mm, flattened to eight chords each. */
export function rounded(corners: readonly Point[], radius: number): Point[] {
	const CHORDS = 8;
	return corners.flatMap((b, i): Point[] => {
		const a = corners[i - 1];
		const c = corners[i + 1];
		if (a === undefined || c === undefined) return [b];
		const before = unit(a, b);
		const after = unit(b, c);
		const centre: Point = [b[0] + (after[0] - before[0]) * radius, b[1] + (after[1] - before[1]) * radius];
		return Array.from({ length: CHORDS + 1 }, (_, k): Point => {
			const angle = (k / CHORDS) * (Math.PI / 2);
			const [along, across] = [Math.sin(angle) * radius, Math.cos(angle) * radius];
			return [centre[0] - after[0] * across + before[0] * along, centre[1] - after[1] * across + before[1] * along];
		});
	});
}

function unit([ax, ay]: Point, [bx, by]: Point): Point {
	const length = Math.hypot(bx - ax, by - ay);
	return [(bx - ax) / length, (by - ay) / length];
}

export function loop(id: string, line: readonly Point[], more: Partial<LoopProperties> = {}): LoopFeature {
	const length = line.reduce((sum, p, i) => {
		const before = line[i - 1];
		return before === undefined ? 0 : sum + Math.hypot(p[0] - before[0], p[1] - before[1]) / 1000;
	}, 0);
	return {
		type: "Feature",
		id,
		geometry: { type: "LineString", coordinates: line },
		properties: {
			kind: "loop",
			manifold: "m1",
			port: 1,
			rooms: ["workshop"],
			pattern: "serpentine",
			spacing: 200,
			length: Math.round(length * 100) / 100,
			...more,
		},
	};
}

const bench: Keepout = { id: "bench", name: "Work bench", region: region(rectangle(0, 2400, 2000, 3000)) };

/** Two rooms with a doorway, a column, a bench and a manifold for two loops; every wall a whole number of metres. */
export const smallFloor: Floor = {
	name: "Sail loft",
	system: {
		pipe: { outerDiameter: 16, wallThickness: 2, minBendRadius: 80 },
		maxLoopLength: 80,
		spacing: 200,
		edgeDistance: undefined,
		tailSpacing: 50,
	},
	rooms: [
		room("workshop", "Workshop", region(rectangle(0, 0, 4000, 3000), [rectangle(2400, 2500, 2700, 2800).reverse()])),
		room("drying", "Drying room", region(rectangle(4100, 0, 6100, 3000))),
		room("porch", "Porch", region(rectangle(4100, 3100, 6100, 4100)), { heated: false }),
	],
	doorways: [{ id: "door", region: region(rectangle(3999, 200, 4101, 1100)), between: ["workshop", "drying"] }],
	keepouts: [bench],
	manifolds: [{ id: "m1", position: [3000, 0], facing: 90, portPitch: 50, ports: undefined }],
};

/** Lanes of a serpentine at x = `left` and x = `right` by turns, from `bottom` upwards, 200 mm apart. */
function lanes(left: number, right: number, bottom: number, count: number): Point[] {
	return Array.from({ length: count }, (_, i): Point[] => {
		const y = bottom + 200 * i;
		return i % 2 === 0
			? [
					[left, y],
					[right, y],
				]
			: [
					[right, y],
					[left, y],
				];
	}).flat();
}

const dryingLoop = rounded(
	[
		[3037.5, 0],
		[3037.5, 300],
		...lanes(4400, 6000, 300, 14).slice(1, -1),
		[4200, 2900],
		[4200, 350],
		[3012.5, 350],
		[3012.5, 0],
	],
	80,
);

const workshopLoop = rounded(
	[
		[2987.5, 0],
		[2987.5, 600],
		...lanes(300, 3900, 600, 8).slice(1, -1),
		[100, 2000],
		[100, 100],
		[2962.5, 100],
		[2962.5, 0],
	],
	80,
);

export const smallLayout: Layout = {
	type: "FeatureCollection",
	units: "mm",
	name: "",
	features: [
		loop("L1", dryingLoop, { port: 1, rooms: ["drying"] }),
		loop("L2", workshopLoop, { port: 2, rooms: ["workshop"] }),
	],
	channels: [
		{
			id: "c1",
			room: "workshop",
			doorway: "door",
			pipes: 2,
			width: 66,
			path: [
				[3100, 325],
				[4100, 325],
			],
		},
	],
	notices: [
		{
			code: "ROOM_COLD",
			subject: "workshop",
			message: "Workshop: 3.1 m² along the work bench lie farther than one spacing from any pipe.",
		},
	],
};
