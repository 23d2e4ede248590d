import type { Point } from "oxturn";
import {
	type Draft,
	type DraftFeature,
	featureOf,
	freshId,
	isOutlined,
	isRoom,
	type OutlinedFeature,
	withFeature,
} from "../document/draft.ts";
import { plus, wholeMm } from "../document/plane.ts";
import { closeRing, contains, cornersOf } from "../document/rings.ts";

/** An edit that made something, with the id of what it made. */
export interface Made {
	readonly draft: Draft;
	readonly id: string;
}

const append = (draft: Draft, feature: DraftFeature): Made => ({
	draft: { ...draft, features: [...draft.features, feature] },
	id: feature.id,
});

const polygon = (corners: readonly Point[]): OutlinedFeature["geometry"] => ({
	type: "Polygon",
	coordinates: [closeRing(corners.map(wholeMm))],
});

export function addRoom(draft: Draft, corners: readonly Point[], name: string): Made {
	const id = freshId(draft, "room");
	return append(draft, { type: "Feature", id, properties: { kind: "room", name }, geometry: polygon(corners) });
}

export function addKeepout(draft: Draft, corners: readonly Point[], name: string): Made {
	const id = freshId(draft, "keepout");
	return append(draft, { type: "Feature", id, properties: { kind: "keepout", name }, geometry: polygon(corners) });
}

export function addDoorway(draft: Draft, corners: readonly Point[], between: readonly [string, string]): Made {
	const id = freshId(draft, "doorway");
	return append(draft, { type: "Feature", id, properties: { kind: "doorway", between }, geometry: polygon(corners) });
}

export function addManifold(draft: Draft, at: Point, facing: number): Made {
	const id = freshId(draft, "manifold");
	return append(draft, {
		type: "Feature",
		id,
		properties: { kind: "manifold", facing },
		geometry: { type: "Point", coordinates: at },
	});
}

/** Cuts a hole into the room that holds its corners; `undefined` when no room holds them all. */
export function addHole(draft: Draft, corners: readonly Point[]): Made | undefined {
	const room = draft.features.filter(isRoom).find((feature) => corners.every((corner) => contains(feature, corner)));
	if (!room) return undefined;
	const coordinates = [...room.geometry.coordinates, closeRing(corners.map(wholeMm))];
	return { draft: withFeature(draft, { ...room, geometry: { type: "Polygon", coordinates } }), id: room.id };
}

/** Takes a feature away, and the doorways of a room with it. */
export function removeFeature(draft: Draft, id: string): Draft {
	const goes = (feature: DraftFeature): boolean =>
		feature.id === id || (feature.properties.kind === "doorway" && (feature.properties.between?.includes(id) ?? false));
	return { ...draft, features: draft.features.filter((feature) => !goes(feature)) };
}

/** Fills one of a room's holes. */
export function removeHole(draft: Draft, id: string, ring: number): Draft {
	const feature = featureOf(draft, id);
	if (!feature || !isRoom(feature) || ring === 0) return draft;
	const coordinates = feature.geometry.coordinates.toSpliced(ring, 1);
	return withFeature(draft, { ...feature, geometry: { type: "Polygon", coordinates } });
}

/** Moves a whole outline, or one hole of a room. */
export function moveOutline(draft: Draft, id: string, by: Point, ring?: number): Draft {
	const feature = featureOf(draft, id);
	if (!feature || !isOutlined(feature)) return draft;
	const coordinates = feature.geometry.coordinates.map((old, index) =>
		ring === undefined || ring === index ? closeRing(cornersOf(old).map((corner) => wholeMm(plus(corner, by)))) : old,
	);
	return withFeature(draft, { ...feature, geometry: { type: "Polygon", coordinates } });
}
