import type { Point } from "@oxturn/geometry";
import * as v from "valibot";
import { describeValue } from "./describe.ts";
import { expected, filledText, isRecord, memberOf, members, numberBetween, oneOf, readPart, text } from "./expect.ts";
import { position } from "./floorSchema.ts";
import { parseJson } from "./parseJson.ts";
import { DOCUMENT, LayoutError, type Problem } from "./problems.ts";
import { areOfFloor } from "./readFeatures.ts";
import type { Channel, Layout, LoopFeature, Notice } from "./types.ts";

const path = v.pipe(
	v.array(position, expected("an array of positions")),
	v.minLength(2, expected("at least two positions")),
);

const positive = (unit: string) => {
	const message = expected(`a positive number in ${unit}`);
	return v.pipe(v.number(message), v.finite(message), v.gtValue(0, message));
};

const whole = (what: string, min: number) =>
	v.pipe(numberBetween(min, 10_000, ""), v.integer(expected(`a whole number: ${what}`)));

const ids = v.array(filledText("an id"), expected("an array of ids"));

const channelSchema = members(
	"a channel",
	{
		id: filledText("an id"),
		room: filledText("a room's id"),
		doorway: v.optional(filledText("a doorway's id")),
		pipes: whole("how many pipes pass", 0),
		width: positive("mm"),
		path,
	},
	{
		id: "an id.",
		room: "the id of the room it is in.",
		pipes: "how many pipes pass.",
		width: "its width in mm.",
		path: "an array of positions.",
	},
);

// details only repeat what the message says: what somebody else keeps there is no reason to refuse the layout
const details = v.fallback(
	v.optional(v.pipe(v.custom<object>(isRecord), v.record(v.string(), v.union([v.number(), v.string()])))),
	undefined,
);

const noticeSchema = members(
	"a notice",
	{ code: filledText("a code"), message: text("a string"), subject: text("an id"), details },
	{ code: "a code.", message: "a message.", subject: "the id of what it is about." },
);

const layoutSchema = members(
	'an object: a GeoJSON FeatureCollection with "units": "mm"',
	{
		type: v.literal("FeatureCollection", expected('"FeatureCollection"')),
		units: v.literal("mm", expected('"mm"', "Coordinates are millimetres.")),
		name: v.optional(text("a string"), ""),
		features: v.array(v.unknown(), expected("an array of loops")),
		channels: v.optional(v.array(channelSchema, expected("an array of channels")), []),
		notices: v.optional(v.array(noticeSchema, expected("an array of notices")), []),
	},
	{
		type: '"FeatureCollection". Add "type": "FeatureCollection".',
		units: '"mm". Give coordinates in millimetres and say so with "units": "mm".',
		features: "an array of loops. Add it, empty if there are none.",
	},
);

const loopSchema = members(
	"a loop: a GeoJSON Feature",
	{
		type: v.literal("Feature", expected('"Feature"')),
		id: filledText("a string that is not empty"),
		geometry: members(
			"a LineString",
			{ type: v.literal("LineString", expected('"LineString"')), coordinates: path },
			{ type: '"LineString".', coordinates: "the pipe's positions." },
		),
		properties: members(
			"an object",
			{
				kind: v.literal("loop", expected('"loop"')),
				manifold: filledText("the manifold's id"),
				port: whole("1 is the leftmost port", 1),
				rooms: ids,
				pattern: oneOf(["serpentine", "spiral"]),
				spacing: positive("mm"),
				length: positive("m"),
			},
			{
				kind: '"loop".',
				manifold: "the id of its manifold.",
				port: "a whole number from 1.",
				rooms: "the ids of the rooms it heats.",
				pattern: '"serpentine" or "spiral".',
				spacing: "its spacing in mm.",
				length: "its length in m.",
			},
		),
	},
	{ type: '"Feature".', id: "a string that no other loop has.", geometry: "a LineString.", properties: "an object." },
);

function toPath(positions: readonly (readonly [number, number, ...unknown[]])[]): Point[] {
	return positions.map(([x, y]): Point => [x, y]);
}

function readLoop(input: unknown, subject: string, problems: Problem[]): LoopFeature | undefined {
	// grouped by member: the path begins with "geometry" and "coordinates"
	const loop = readPart(loopSchema, input, subject, "", problems, 2);
	if (!loop) return undefined;
	const { kind, manifold, port, rooms, pattern, spacing, length } = loop.properties;
	return {
		type: "Feature",
		id: loop.id,
		geometry: { type: "LineString", coordinates: toPath(loop.geometry.coordinates) },
		properties: { kind, manifold, port, rooms, pattern, spacing, length },
	};
}

/**
 * Reads a layout document: checks its form and takes over what it knows, as fresh data. A missing name, missing
 * channels and missing notices become empty. Whether the loops are any good is not judged.
 *
 * Throws a `LayoutError` with every problem that it finds, each naming the loop and the member.
 */
export function readLayout(document: unknown): Layout {
	const problems: Problem[] = [];
	const top = readPart(layoutSchema, document, DOCUMENT, "", problems, 3);
	const inputs = memberOf(document, "features");
	if (Array.isArray(inputs) && areOfFloor(inputs)) {
		const message = "found rooms and the like, which make a floor, expected loops. Give the document of a layout.";
		throw new LayoutError([...problems, { subject: DOCUMENT, member: "features", message }]);
	}
	const seen = new Set<unknown>();
	const features = (Array.isArray(inputs) ? inputs : []).flatMap((input: unknown, index): LoopFeature[] => {
		const id = memberOf(input, "id");
		const subject = typeof id === "string" && id !== "" ? id : `feature ${index + 1}`;
		if (seen.has(id)) {
			const message = `found ${describeValue(id)} a second time, expected every id once. Give one of the loops another id.`;
			problems.push({ subject, member: "id", message });
		}
		if (subject === id) seen.add(id);
		const loop = readLoop(input, subject, problems);
		return loop ? [loop] : [];
	});
	if (!top || problems.length > 0) throw new LayoutError(problems);

	const channels = top.channels.map(({ id, room, doorway, pipes, width, path }): Channel => {
		const channel = { id, room, pipes, width, path: toPath(path) };
		return doorway === undefined ? channel : { ...channel, doorway };
	});
	const notices = top.notices.map(({ code, message, subject, details }): Notice => {
		const notice = { code, message, subject };
		return details === undefined ? notice : { ...notice, details };
	});
	return { type: "FeatureCollection", units: "mm", name: top.name, features, channels, notices };
}

/** Reads a layout document from its JSON text, as `readLayout` does. */
export function readLayoutText(text: string): Layout {
	const parsed = parseJson(text);
	if ("problem" in parsed) throw new LayoutError([parsed.problem]);
	return readLayout(parsed.value);
}
