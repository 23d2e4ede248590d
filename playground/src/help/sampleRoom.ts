import type { Draft } from "../document/draft.ts";

/** A plain room for pictures of the patterns: spaced wide enough that single pipes can be told apart when small. */
export const sampleRoom: Draft = {
	type: "FeatureCollection",
	units: "mm",
	name: "",
	system: { spacing: 300 },
	features: [
		{
			type: "Feature",
			id: "sample",
			geometry: {
				type: "Polygon",
				coordinates: [
					[
						[0, 0],
						[4700, 0],
						[4700, 4200],
						[0, 4200],
						[0, 0],
					],
				],
			},
			properties: { kind: "room", name: "" },
		},
		{
			type: "Feature",
			id: "m1",
			geometry: { type: "Point", coordinates: [800, 0] },
			properties: { kind: "manifold", facing: 90 },
		},
	],
};
