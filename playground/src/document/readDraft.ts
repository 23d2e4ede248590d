import { readFloor } from "oxturn";
import { type Draft, type DraftFeature, isDoorway } from "./draft.ts";

/**
 * Checks a document with the library's reader and gives it as a draft; throws the reader's `FloorError`. The draft
 * holds what the document said, not the defaults, and positions lose what they have beyond x and y.
 */
export function readDraft(document: unknown): Draft {
	const { floor } = readFloor(document);
	// the reader has just vouched for the form of every member that a draft knows
	const read = document as Draft;
	return {
		type: "FeatureCollection",
		units: "mm",
		name: floor.name,
		system: read.system ?? {},
		features: read.features.map(inThePlane).map((feature) => {
			// names, or nothing, may stand for the rooms that a doorway joins; edits go by their ids
			const between = isDoorway(feature) && floor.doorways.find(({ id }) => id === feature.id)?.between;
			return between ? { ...feature, properties: { ...feature.properties, between } } : feature;
		}),
	};
}

function inThePlane(feature: DraftFeature): DraftFeature {
	const { id, properties, geometry } = feature;
	if (geometry.type === "Point") {
		const [x, y] = geometry.coordinates;
		return { type: "Feature", id, properties, geometry: { type: "Point", coordinates: [x, y] } } as DraftFeature;
	}
	const coordinates = geometry.coordinates.map((ring) => ring.map(([x, y]) => [x, y] as const));
	return { type: "Feature", id, properties, geometry: { type: "Polygon", coordinates } } as DraftFeature;
}
