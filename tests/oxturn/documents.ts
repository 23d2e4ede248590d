type Ring = readonly (readonly [number, number])[];

const rectangle = (x: number, y: number, width: number, height: number): Ring => [
	[x, y],
	[x + width, y],
	[x + width, y + height],
	[x, y + height],
	[x, y],
];

/** A room of `width` x `height` mm with its lower left corner at `x`, 0. */
export const room = (id: string, x: number, width: number, height: number, properties = {}): object => ({
	type: "Feature",
	id,
	geometry: { type: "Polygon", coordinates: [rectangle(x, 0, width, height)] },
	properties: { kind: "room", name: `The ${id}`, ...properties },
});

export const doorway = (id: string, x: number, y: number, width: number, height: number): object => ({
	type: "Feature",
	id,
	geometry: { type: "Polygon", coordinates: [rectangle(x, y, width, height)] },
	properties: { kind: "doorway" },
});

/** A manifold on a lower wall, `x` mm from the left. */
export const manifold = (id: string, x: number): object => ({
	type: "Feature",
	id,
	geometry: { type: "Point", coordinates: [x, 0] },
	properties: { kind: "manifold", facing: 90 },
});

export const keepout = (id: string, x: number, y: number): object => ({
	type: "Feature",
	id,
	geometry: { type: "Polygon", coordinates: [rectangle(x, y, 400, 400)] },
	properties: { kind: "keepout" },
});

export const floorOf = (...features: readonly object[]): object => ({
	type: "FeatureCollection",
	units: "mm",
	name: "Ferry hut",
	features,
});

/** One room of 12 m2 with a manifold: a floor that every pattern can serve. */
export const study = floorOf(room("study", 0, 4000, 3000), manifold("m1", 1500));

/** The study, and a cell that no doorway and no manifold reaches. */
export const studyAndCell = floorOf(room("study", 0, 4000, 3000), manifold("m1", 1500), room("cell", 4200, 2000, 3000));

/** The study, and a cell that is reached through a doorway as `wide` as this, mm. */
export const throughDoorway = (wide: number): object =>
	floorOf(
		room("study", 0, 4000, 3000),
		manifold("m1", 1500),
		room("cell", 4100, 2000, 3000),
		doorway("arch", 3999, 1000, 102, wide),
	);

/** Two rooms, each with its own manifold. */
export const twoStudies = floorOf(
	room("east", 0, 4000, 3000),
	manifold("m1", 1500),
	room("west", 4200, 3600, 3000),
	manifold("m2", 5800),
);

/** A layout for the study with one loop: out into the room and back, round two corners that no pipe can make. */
export const sharpLayout = {
	type: "FeatureCollection",
	units: "mm",
	name: "Ferry hut",
	features: [
		{
			type: "Feature",
			id: "L1",
			geometry: {
				type: "LineString",
				coordinates: [
					[1500, 0],
					[1500, 2000],
					[1525, 2000],
					[1525, 0],
				],
			},
			properties: {
				kind: "loop",
				manifold: "m1",
				port: 1,
				rooms: ["study"],
				pattern: "serpentine",
				spacing: 200,
				length: 4.025,
			},
		},
	],
};
