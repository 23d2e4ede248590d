import { type Floor, readFloor } from "@oxturn/floor";
import type { Point, Ring } from "@oxturn/geometry";
import { rectangle } from "./shapes.ts";

/** x0, y0, x1, y1 in mm. */
export type Box = readonly [number, number, number, number];

/** A floor as one would jot it down. Everything is named by its id; what is left out takes a common value. */
export interface PlannedFloor {
	readonly rooms: Readonly<Record<string, Box | Ring>>;
	readonly unheated?: readonly string[];
	/** Whether rooms may share a loop with a neighbour; "default" leaves it to their size. @default none may */
	readonly share?: Readonly<Record<string, boolean>> | "default";
	readonly doors: Readonly<Record<string, Box>>;
	readonly keepouts?: Readonly<Record<string, Box>>;
	/** Where each hangs, and the way its pipes leave, degrees. */
	readonly manifolds: Readonly<
		Record<string, { readonly at: Point; readonly facing: number; readonly ports?: number }>
	>;
	/** mm @default 200 */
	readonly spacing?: number;
	/** mm, for rooms that have their own. */
	readonly spacings?: Readonly<Record<string, number>>;
	/** For rooms that ask for one. */
	readonly patterns?: Readonly<Record<string, "serpentine" | "spiral">>;
	/** m @default 100 */
	readonly maxLoopLength?: number;
}

const isBox = (shape: Box | Ring): shape is Box => typeof shape[0] === "number";

const polygon = (shape: Box | Ring) => {
	const ring = isBox(shape) ? rectangle(...shape) : shape;
	return { type: "Polygon", coordinates: [[...ring, ring[0]!]] };
};

/** Reads the floor as if it came as a document, so that the doorways find their rooms. */
export function plannedFloor(plan: PlannedFloor): Floor {
	const feature = (id: string, geometry: object, properties: object): object => ({
		type: "Feature",
		id,
		geometry,
		properties,
	});
	return readFloor({
		type: "FeatureCollection",
		units: "mm",
		system: {
			pipe: { outerDiameter: 16, wallThickness: 2, minBendRadius: 75 },
			spacing: plan.spacing ?? 200,
			maxLoopLength: plan.maxLoopLength ?? 100,
			tailSpacing: 50,
		},
		features: [
			...Object.entries(plan.rooms).map(([id, shape]) =>
				feature(id, polygon(shape), {
					kind: "room",
					heated: !plan.unheated?.includes(id),
					...(plan.share === "default" ? {} : { share: plan.share?.[id] ?? false }),
					...(plan.patterns?.[id] ? { pattern: plan.patterns[id] } : {}),
					...(plan.spacings?.[id] ? { spacing: plan.spacings[id] } : {}),
				}),
			),
			...Object.entries(plan.doors).map(([id, box]) => feature(id, polygon(box), { kind: "doorway" })),
			...Object.entries(plan.keepouts ?? {}).map(([id, box]) => feature(id, polygon(box), { kind: "keepout" })),
			...Object.entries(plan.manifolds).map(([id, { at, facing, ports }]) =>
				feature(id, { type: "Point", coordinates: at }, { kind: "manifold", facing, ...(ports ? { ports } : {}) }),
			),
		],
	}).floor;
}
