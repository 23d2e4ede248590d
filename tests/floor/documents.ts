import { FloorError, LayoutError, type Problem, readFloor, readLayout } from "@oxturn/floor";

type Position = readonly number[];

/** A closed ring round an axis-parallel rectangle, mm. */
export function rectangle(minX: number, minY: number, maxX: number, maxY: number): Position[] {
	return [
		[minX, minY],
		[maxX, minY],
		[maxX, maxY],
		[minX, maxY],
		[minX, minY],
	];
}

/** A feature of a floor document with a polygon. */
export function area(kind: string, id: string, rings: readonly (readonly Position[])[], properties: object = {}) {
	return {
		type: "Feature",
		id,
		geometry: { type: "Polygon", coordinates: rings },
		properties: { kind, ...properties },
	};
}

/** A manifold of a floor document. */
export function manifold(id: string, position: Position, facing: number) {
	return {
		type: "Feature",
		id,
		geometry: { type: "Point", coordinates: position },
		properties: { kind: "manifold", facing },
	};
}

/**
 * A small valid floor document, every feature at its own index:
 *
 *     0 hall  |2 door|  1 kitchen     3 units in the kitchen's corner
 *       4 m1 on the hall's lower wall
 */
export function validFloor() {
	return {
		type: "FeatureCollection",
		units: "mm",
		name: "Two rooms",
		system: {
			pipe: { outerDiameter: 16, wallThickness: 2, minBendRadius: 75 },
			maxLoopLength: 90,
			spacing: 150,
			edgeDistance: 100,
			tailSpacing: 60,
		},
		features: [
			area("room", "hall", [rectangle(0, 0, 4000, 3000)], { name: "Hall" }),
			area("room", "kitchen", [rectangle(4100, 0, 8000, 3000)], { name: "Kitchen", pattern: "spiral" }),
			area("doorway", "d1", [rectangle(3999, 1000, 4101, 1900)], { between: ["hall", "kitchen"] }),
			area("keepout", "units", [rectangle(7400, 0, 8000, 3000)], { name: "Kitchen units" }),
			manifold("m1", [2000, 0], 90),
		],
	};
}

/** A small valid layout document. */
export function validLayout() {
	return {
		type: "FeatureCollection",
		units: "mm",
		name: "One loop",
		features: [
			{
				type: "Feature",
				id: "L1",
				geometry: {
					type: "LineString",
					coordinates: [
						[0, 0],
						[0, 850],
						[25, 850],
						[25, 0],
					],
				},
				properties: {
					kind: "loop",
					manifold: "m1",
					port: 1,
					rooms: ["hall"],
					pattern: "serpentine",
					spacing: 150,
					length: 1.725,
				},
			},
		],
		channels: [
			{
				id: "c1",
				room: "hall",
				doorway: "d1",
				pipes: 2,
				width: 60,
				path: [
					[0, 0],
					[500, 0],
				],
			},
		],
		notices: [{ code: "ROOM_UNSERVED", message: "No pipe fits.", subject: "hall" }],
	};
}

/** A deep copy of `document` with the member at `path` (`features.0.id`) replaced, or removed for `undefined`. */
export function change(document: unknown, path: string, value: unknown): unknown {
	const copy: unknown = structuredClone(document);
	const keys = path.split(".");
	const last = keys.pop()!;
	let parent = copy as Record<string, unknown>;
	for (const key of keys) parent = parent[key] as Record<string, unknown>;
	if (value === undefined) delete parent[last];
	else parent[last] = value;
	return copy;
}

/** The problems that reading the floor document gives; none when it reads well. */
export function floorProblems(document: unknown): readonly Problem[] {
	try {
		readFloor(document);
		return [];
	} catch (error) {
		if (error instanceof FloorError) return error.problems;
		throw error;
	}
}

/** The problems that reading the layout document gives; none when it reads well. */
export function layoutProblems(document: unknown): readonly Problem[] {
	try {
		readLayout(document);
		return [];
	} catch (error) {
		if (error instanceof LayoutError) return error.problems;
		throw error;
	}
}
