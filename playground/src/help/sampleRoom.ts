import type { Draft } from "../document/draft.ts";

/** A plain room for pictures of the patterns: spaced wide enough that single pipes can be told apart when small. */
export const sampleRoom: Draft = {
	type: "FeatureCollection",
	units: "mm",
	name: "",
	system: { spacing: 250 },
	features: [
		{
			type: "Feature",
			id: "sample",
			geometry: {
				type: "Polygon",
				coordinates: [
					[
						[0, 0],
						[2800, 0],
						[2800, 2400],
						[0, 2400],
						[0, 0],
					],
				],
			},
			properties: { kind: "room", name: "" },
		},
		{
			type: "Feature",
			id: "m1",
			geometry: { type: "Point", coordinates: [500, 0] },
			properties: { kind: "manifold", facing: 90 },
		},
	],
};
