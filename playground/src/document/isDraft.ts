import type { Draft } from "./draft.ts";

type Members = Readonly<Record<string, unknown>>;

const isRecord = (value: unknown): value is Members =>
	typeof value === "object" && value !== null && !Array.isArray(value);
const isPosition = (value: unknown): boolean =>
	Array.isArray(value) && value.length >= 2 && value.every((part) => Number.isFinite(part));
const isRing = (value: unknown): boolean => Array.isArray(value) && value.length >= 3 && value.every(isPosition);
const isNumberOrNothing = (value: unknown): boolean => value === undefined || Number.isFinite(value);
const isTextOrNothing = (value: unknown): boolean => value === undefined || typeof value === "string";

function isFeature(value: unknown): boolean {
	if (!isRecord(value) || typeof value.id !== "string") return false;
	const { geometry, properties } = value;
	if (!isRecord(geometry) || !isRecord(properties)) return false;
	const { kind, name, spacing, facing, portPitch, ports } = properties;
	const numbersAreRight = [spacing, portPitch, ports].every(isNumberOrNothing);
	if (!numbersAreRight || !isTextOrNothing(name)) return false;
	if (kind === "manifold")
		return geometry.type === "Point" && isPosition(geometry.coordinates) && Number.isFinite(facing);
	if (kind !== "room" && kind !== "keepout" && kind !== "doorway") return false;
	const { type, coordinates } = geometry;
	return type === "Polygon" && Array.isArray(coordinates) && coordinates.length > 0 && coordinates.every(isRing);
}

/**
 * Whether a value has the form of a draft, so that it can be drawn and edited. Less than the library's reader asks:
 * outlines may cross themselves, and there may be no room yet.
 */
export function isDraft(value: unknown): value is Draft {
	if (!isRecord(value) || value.type !== "FeatureCollection" || value.units !== "mm") return false;
	const { name, system, features } = value;
	if (typeof name !== "string" || !isRecord(system) || !Array.isArray(features)) return false;
	const { pipe = {}, ...numbers } = system;
	const systemIsRight = isRecord(pipe) && [...Object.values(numbers), ...Object.values(pipe)].every(isNumberOrNothing);
	return systemIsRight && features.every(isFeature);
}
