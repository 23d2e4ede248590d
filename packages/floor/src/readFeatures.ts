import type { Point, Region } from "@oxturn/geometry";
import type * as v from "valibot";
import type { PlacedDoorway, PlacedManifold, PlacedRoom, Placement } from "./checkPlacement.ts";
import { describeValue } from "./describe.ts";
import { isRecord, memberOf, readPart } from "./expect.ts";
import { featureSchema, type Kind, kinds, pointSchema, polygonSchema, propertySchemas } from "./floorSchema.ts";
import type { Problem } from "./problems.ts";
import { readRegion } from "./readRegion.ts";
import type { Notice } from "./types.ts";

type Properties<K extends Kind> = v.InferOutput<(typeof propertySchemas)[K]>;

/** A feature that was read on its own; `properties` are `undefined` when they have problems. */
interface Draft<K extends Kind> {
	readonly properties: Properties<K> | undefined;
}

export type RoomDraft = PlacedRoom & Draft<"room">;
export type DoorwayDraft = PlacedDoorway & Draft<"doorway">;
export type KeepoutDraft = PlacedRoom & Draft<"keepout">;
export type ManifoldDraft = PlacedManifold & Draft<"manifold">;

/** All features of a document, by kind and in the document's order, and what was found on the way. */
export interface FeatureDrafts extends Placement {
	readonly rooms: RoomDraft[];
	readonly doorways: DoorwayDraft[];
	readonly keepouts: KeepoutDraft[];
	readonly manifolds: ManifoldDraft[];
	readonly problems: Problem[];
	readonly notices: Notice[];
}

function isKind(value: unknown): value is Kind {
	return kinds.some((kind) => kind === value);
}

/** Whether all features, of which there are some, are of a kind that `isOne` knows. */
function areAll(inputs: readonly unknown[], isOne: (kind: unknown) => boolean): boolean {
	return inputs.length > 0 && inputs.every((input) => isOne(memberOf(memberOf(input, "properties"), "kind")));
}

/** Whether these are a floor's features, and a layout's. */
export const areOfFloor = (inputs: readonly unknown[]): boolean => areAll(inputs, isKind);
export const areOfLayout = (inputs: readonly unknown[]): boolean => areAll(inputs, (kind) => kind === "loop");

function readOutline(geometry: unknown, subject: string, drafts: FeatureDrafts): Region | undefined {
	// grouped by ring: the path begins with "coordinates" and the ring's index
	const polygon = readPart(polygonSchema, geometry, subject, "geometry", drafts.problems, 2);
	if (!polygon) return undefined;
	const rings = polygon.coordinates.map((ring) => ring.map(([x, y]): Point => [x, y]));
	const { region, problems, notices } = readRegion(subject, rings);
	for (const problem of problems) drafts.problems.push(problem);
	for (const notice of notices) drafts.notices.push(notice);
	return region;
}

function readPosition(geometry: unknown, subject: string, drafts: FeatureDrafts): Point | undefined {
	const point = readPart(pointSchema, geometry, subject, "geometry", drafts.problems);
	return point && [point.coordinates[0], point.coordinates[1]];
}

/** Reads one feature into the list of its kind; `false` when it is of none. */
function readFeature(input: unknown, id: string, drafts: FeatureDrafts): boolean {
	const { problems } = drafts;
	readPart(featureSchema, input, id, "", problems);
	const raw = memberOf(input, "properties");
	const kind = memberOf(raw, "kind");
	if (!isKind(kind)) {
		const names = kinds.map((name) => `"${name}"`).join(", ");
		const message = `found ${describeValue(kind)}, expected one of ${names}. Say what the feature is.`;
		if (isRecord(raw)) problems.push({ subject: id, member: "properties.kind", message });
		return false;
	}
	const read = <K extends Kind>(schema: (typeof propertySchemas)[K]) =>
		readPart(schema, raw, id, "properties", problems);
	const geometry = memberOf(input, "geometry");
	// the name is looked up beside the other properties: doorways go by it even while one of those is wrong
	const rawName = memberOf(raw, "name");
	const name = typeof rawName === "string" ? rawName : undefined;
	switch (kind) {
		case "room": {
			const properties = read<"room">(propertySchemas.room);
			drafts.rooms.push({ id, name: name ?? id, properties, region: readOutline(geometry, id, drafts) });
			break;
		}
		case "doorway": {
			const properties = read<"doorway">(propertySchemas.doorway);
			const isUnreadable = !properties && memberOf(raw, "between") !== undefined;
			const region = readOutline(geometry, id, drafts);
			drafts.doorways.push({ id, properties, region, between: properties?.between, isUnreadable });
			break;
		}
		case "keepout": {
			const properties = read<"keepout">(propertySchemas.keepout);
			drafts.keepouts.push({ id, name: name ?? "", properties, region: readOutline(geometry, id, drafts) });
			break;
		}
		case "manifold": {
			const properties = read<"manifold">(propertySchemas.manifold);
			const isUnreadable = !properties && memberOf(raw, "facing") !== undefined;
			const position = readPosition(geometry, id, drafts);
			drafts.manifolds.push({ id, properties, position, facing: properties?.facing, isUnreadable });
			break;
		}
	}
	return true;
}

/** Reads the features one by one; how they lie to each other is not judged here. */
export function readFeatures(inputs: readonly unknown[]): FeatureDrafts {
	const drafts: FeatureDrafts = {
		rooms: [],
		doorways: [],
		keepouts: [],
		manifolds: [],
		problems: [],
		notices: [],
		isComplete: true,
	};
	let isComplete = true;
	const seen = new Set<string>();
	for (const [index, input] of inputs.entries()) {
		const rawId = memberOf(input, "id");
		const id = typeof rawId === "string" && rawId !== "" ? rawId : `feature ${index + 1}`;
		if (!readFeature(input, id, drafts)) isComplete = false;
		if (rawId === id && seen.has(id)) {
			const message = `found ${describeValue(id)} a second time, expected every id once. Give one of the features another id.`;
			drafts.problems.push({ subject: id, member: "id", message });
		}
		seen.add(id);
	}
	return { ...drafts, isComplete };
}
