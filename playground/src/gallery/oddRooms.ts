import type { Draft } from "../document/draft.ts";
import type { Texts } from "../text/catalogue.ts";

type Position = readonly [x: number, y: number];

/** Names a room of the gallery in the catalogue. */
export type OddRoomId = keyof Texts["start"]["odd"];

interface OddRoom {
	readonly id: OddRoomId;
	/** mm, anticlockwise; the first corner is not repeated. */
	readonly outline: readonly Position[];
	readonly holes?: readonly (readonly Position[])[];
	readonly manifold: Position;
	/** Degrees anticlockwise from +x. */
	readonly facing: number;
}

const closed = (ring: readonly Position[]): readonly Position[] => [...ring, ...ring.slice(0, 1)];

/** A room of the gallery as a floor of its own, called `name`. */
export function oddRoomDraft({ outline, holes = [], manifold, facing }: OddRoom, name: string): Draft {
	return {
		type: "FeatureCollection",
		units: "mm",
		name,
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
				properties: { kind: "manifold", facing },
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
export const oddRooms: readonly OddRoom[] = [
	{
		id: "l",
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
	},
	{
		id: "u",
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
	},
	{
		id: "bay",
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
	},
	{
		id: "round",
		outline: regularRing([0, 0], ROUND_RADIUS, ROUND_CORNERS),
		manifold: [0, -ROUND_LOWEST],
		facing: 90,
	},
	{
		id: "column",
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
	},
	{
		id: "triangle",
		outline: [
			[0, 0],
			[5400, 0],
			[1400, 4400],
		],
		manifold: [2200, 0],
		facing: 90,
	},
	{
		id: "skewed",
		outline: [
			[0, 0],
			[4700, 0],
			[5300, 2900],
			[2900, 4200],
			[300, 3500],
		],
		manifold: [1400, 0],
		facing: 90,
	},
	{
		id: "narrow",
		outline: [
			[0, 0],
			[2600, 0],
			[2600, 170],
			[0, 170],
		],
		manifold: [1300, 0],
		facing: 90,
	},
];
