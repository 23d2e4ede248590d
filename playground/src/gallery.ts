type Position = readonly [x: number, y: number];

/** A floor document (GeoJSON, mm) as far as this page has to know it. */
export interface FloorSource {
	readonly type: string;
	readonly units: string;
	readonly name: string;
	readonly system: { readonly spacing: number };
	readonly features: readonly {
		readonly type: string;
		readonly id: string;
		readonly properties: { readonly kind: string; readonly name?: string; readonly spacing?: number };
		readonly geometry: unknown;
	}[];
}

interface OddRoom {
	readonly shape: string;
	readonly name: string;
	/** mm, anticlockwise; the first corner is not repeated. */
	readonly outline: readonly Position[];
	readonly holes?: readonly (readonly Position[])[];
	readonly manifold: Position;
	/** Degrees anticlockwise from +x. */
	readonly facing: number;
}

const closed = (ring: readonly Position[]): readonly Position[] => [...ring, ...ring.slice(0, 1)];

function singleRoom({ shape, name, outline, holes = [], manifold, facing }: OddRoom): FloorSource {
	return {
		type: "FeatureCollection",
		units: "mm",
		name: `${name} (${shape})`,
		system: { spacing: 150 },
		features: [
			{
				type: "Feature",
				id: "room",
				properties: { kind: "room", name },
				geometry: { type: "Polygon", coordinates: [outline, ...holes].map(closed) },
			},
			{
				type: "Feature",
				id: "m1",
				properties: { kind: "manifold", facing } as { kind: string },
				geometry: { type: "Point", coordinates: manifold },
			},
		],
	};
}

/** A regular polygon whose first corner is half a step past +x, so that a side faces each axis, mm. */
function regularRing(centre: Position, radius: number, corners: number): readonly Position[] {
	return Array.from({ length: corners }, (_, corner) => {
		const angle = ((corner + 0.5) * 2 * Math.PI) / corners;
		return [
			Math.round(centre[0] + radius * Math.cos(angle)),
			Math.round(centre[1] + radius * Math.sin(angle)),
		] as const;
	});
}

const ROUND_RADIUS = 2400;
const ROUND_CORNERS = 48;
/** Where the middle of the round room's lowest side lies, mm below the centre. */
const ROUND_LOWEST = Math.round(ROUND_RADIUS * Math.cos(Math.PI / ROUND_CORNERS));

/** Invented rooms of awkward outline, each a floor of its own with its manifold. */
export const gallery: readonly FloorSource[] = [
	singleRoom({
		shape: "L",
		name: "Sail loft",
		outline: [
			[0, 0],
			[5200, 0],
			[5200, 2300],
			[2400, 2300],
			[2400, 4600],
			[0, 4600],
		],
		manifold: [1200, 0],
		facing: 90,
	}),
	singleRoom({
		shape: "U",
		name: "Gallery",
		outline: [
			[0, 0],
			[5600, 0],
			[5600, 3600],
			[3900, 3600],
			[3900, 1700],
			[1700, 1700],
			[1700, 3600],
			[0, 3600],
		],
		manifold: [2800, 0],
		facing: 90,
	}),
	singleRoom({
		shape: "bay",
		name: "Reading room",
		outline: [
			[0, 0],
			[4800, 0],
			[4800, 3400],
			[3700, 3400],
			[3000, 4300],
			[1800, 4300],
			[1100, 3400],
			[0, 3400],
		],
		manifold: [800, 0],
		facing: 90,
	}),
	singleRoom({
		shape: "round",
		name: "Dovecote",
		outline: regularRing([0, 0], ROUND_RADIUS, ROUND_CORNERS),
		manifold: [0, -ROUND_LOWEST],
		facing: 90,
	}),
	singleRoom({
		shape: "column",
		name: "Net store",
		outline: [
			[0, 0],
			[4600, 0],
			[4600, 4000],
			[0, 4000],
		],
		holes: [
			[
				[2100, 1800],
				[2100, 2300],
				[2600, 2300],
				[2600, 1800],
			],
		],
		manifold: [700, 0],
		facing: 90,
	}),
	singleRoom({
		shape: "triangle",
		name: "Wedge room",
		outline: [
			[0, 0],
			[5400, 0],
			[1400, 4400],
		],
		manifold: [2200, 0],
		facing: 90,
	}),
	singleRoom({
		shape: "skewed",
		name: "Attic studio",
		outline: [
			[0, 0],
			[4700, 0],
			[5300, 2900],
			[2900, 4200],
			[300, 3500],
		],
		manifold: [1400, 0],
		facing: 90,
	}),
	singleRoom({
		shape: "too narrow to heat",
		name: "Pipe duct",
		outline: [
			[0, 0],
			[2600, 0],
			[2600, 170],
			[0, 170],
		],
		manifold: [1300, 0],
		facing: 90,
	}),
];
