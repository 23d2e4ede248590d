import * as v from "valibot";
import { describeValue } from "./describe.ts";
import { expected, filledText, members, numberBetween, oneOf, text } from "./expect.ts";
import type { PatternName } from "./types.ts";

/** Farthest that a coordinate may lie from the origin, mm: a kilometre. */
export const FARTHEST = 1e6;

/** Most corners that one outline may have. */
export const MOST_CORNERS = 50_000;

const patternNames = ["serpentine", "spiral", "auto"] as const satisfies readonly PatternName[];

/** Smallest outer diameter, mm. What is compared with a diameter below it is not told as a second problem. */
const THINNEST = 6;

const pipeEntries = {
	outerDiameter: v.optional(numberBetween(THINNEST, 40, "mm"), 16),
	wallThickness: v.optional(numberBetween(0.1, 19, "mm"), 2),
	minBendRadius: v.optional(numberBetween(6, 1000, "mm", "Give the radius of the pipe's centreline.")),
};

const pipe = v.pipe(
	members("an object with the pipe's sizes in mm", pipeEntries),
	v.forward(
		v.partialCheck(
			[["outerDiameter"], ["wallThickness"]],
			({ outerDiameter, wallThickness }) => outerDiameter < THINNEST || wallThickness < outerDiameter / 2,
			({ input }) =>
				`found ${input.wallThickness}, expected less than half the outer diameter, ${input.outerDiameter / 2} mm. Give the thickness of one wall.`,
		),
		["wallThickness"],
	),
	v.forward(
		v.partialCheck(
			[["outerDiameter"], ["minBendRadius"]],
			({ outerDiameter, minBendRadius = Infinity }) => minBendRadius >= outerDiameter,
			({ input }) =>
				`found ${input.minBendRadius}, expected at least the outer diameter, ${input.outerDiameter} mm. Give the radius of the pipe's centreline, or leave it out for ${5 * input.outerDiameter} mm.`,
		),
		["minBendRadius"],
	),
);

const spacing = numberBetween(50, 600, "mm", "Give the distance from centre to centre.");

/** `system`, with the defaults filled in. */
export const systemSchema = v.pipe(
	members("an object with the pipe and its distances", {
		pipe: v.optional(pipe, {}),
		maxLoopLength: v.optional(numberBetween(5, 500, "m", "Give metres, from port to port."), 100),
		spacing: v.optional(spacing, 200),
		edgeDistance: v.optional(numberBetween(3, 500, "mm", "Give the distance from the wall to the first pipe.")),
		tailSpacing: v.optional(numberBetween(7, 600, "mm", "Give the distance from centre to centre."), 50),
	}),
	v.forward(
		v.partialCheck(
			[["pipe", "outerDiameter"], ["tailSpacing"]],
			(system) => system.tailSpacing >= system.pipe.outerDiameter + 1,
			({ input }) =>
				`found ${input.tailSpacing}, expected at least the outer diameter and 1 mm, ${input.pipe.outerDiameter + 1} mm. Pipes nearer than that lie on each other.`,
		),
		["tailSpacing"],
	),
	v.forward(
		v.partialCheck(
			[["pipe", "outerDiameter"], ["edgeDistance"]],
			({ pipe: { outerDiameter }, edgeDistance = Infinity }) => edgeDistance >= outerDiameter / 2,
			({ input }) =>
				`found ${input.edgeDistance}, expected at least half the outer diameter, ${input.pipe.outerDiameter / 2} mm. Any nearer and the pipe lies in the wall.`,
		),
		["edgeDistance"],
	),
);

/** The top level; `system` and the features are read one by one, so that each problem names its own. */
export const documentSchema = members(
	'an object: a GeoJSON FeatureCollection with "units": "mm"',
	{
		type: v.literal("FeatureCollection", expected('"FeatureCollection"', "Write it so.")),
		units: v.literal("mm", expected('"mm"', "Convert the coordinates to millimetres.")),
		name: v.optional(text("a string", "Write the name in quotes."), ""),
		features: v.array(v.unknown(), expected("an array of features", "List the rooms and the manifold in it.")),
	},
	{
		type: '"FeatureCollection". Add "type": "FeatureCollection".',
		units: '"mm". Give coordinates in millimetres and say so with "units": "mm".',
		features: "an array of features. Add the rooms and the manifold as features.",
	},
);

/** A feature, whatever its kind; its parts are read one by one. */
export const featureSchema = members(
	"an object: a GeoJSON Feature",
	{
		type: v.literal("Feature", expected('"Feature"', "Write it so.")),
		id: filledText("a string that is not empty", "Other members name the feature by it."),
		properties: members("an object with a kind", {}),
	},
	{
		type: '"Feature". Add "type": "Feature".',
		id: "a string that no other feature has. Add an id.",
		properties: "an object with a kind. Add one.",
	},
);

const coordinate = v.pipe(
	v.number(expected("a number in mm", "Give every position as [x, y].")),
	v.finite(expected("a finite number in mm", "Give the place in millimetres.")),
	v.check(
		(value) => Math.abs(value) <= FARTHEST,
		({ input }) =>
			`found ${describeValue(input)} mm, which is over 1 km from the origin, expected at most ${FARTHEST} mm. Coordinates are millimetres; move the floor nearer to the origin.`,
	),
);

/** A place in the plane, mm; further members are ignored. */
export const position = v.looseTuple([coordinate, coordinate], expected("a position", "Give [x, y] in mm."));

const missingGeometry = { type: "a geometry type.", coordinates: "coordinates." };

/** Rooms, doorways and keep-outs: rings of positions, an outer one and holes. */
export const polygonSchema = members(
	"a Polygon",
	{
		type: v.literal("Polygon", expected('"Polygon"', "Draw its outline on the floor.")),
		coordinates: v.pipe(
			v.array(
				v.array(position, expected("a ring", "Give an array of positions, [x, y] in mm.")),
				expected("an array of rings", "Give the outline first, then the holes."),
			),
			v.minLength(1, expected("an outer ring", "Give the outline.")),
		),
	},
	missingGeometry,
);

/** Manifolds. */
export const pointSchema = members(
	"a Point",
	{
		type: v.literal("Point", expected('"Point"', "Give the place on the wall where the manifold hangs.")),
		coordinates: position,
	},
	missingGeometry,
);

const between = v.strictTuple(
	[filledText("a room's id", "Name two rooms."), filledText("a room's id", "Name two rooms.")],
	expected("the ids of two rooms", "Leave it out to join the rooms that the doorway touches."),
);

const named = { name: v.optional(text("a string", "Write the name in quotes.")) };

/** The properties of each kind of feature. */
export const propertySchemas = {
	room: members("an object", {
		...named,
		heated: v.optional(v.boolean(expected("true or false", "Leave it out for a heated room.")), true),
		spacing: v.optional(spacing),
		share: v.optional(v.boolean(expected("true or false", "Leave it out to share loops below 4 m2."))),
		pattern: v.optional(oneOf(patternNames, 'Leave it out for "auto".'), "auto"),
	}),
	doorway: members("an object", { between: v.optional(between) }),
	keepout: members("an object", named),
	manifold: members("an object", {
		facing: v.optional(
			numberBetween(-360, 360, "degrees", "Give the way the pipes leave, anticlockwise from the x axis."),
		),
		portPitch: v.optional(numberBetween(10, 500, "mm", "Give the distance along the wall between port pairs."), 50),
		ports: v.optional(
			v.pipe(
				numberBetween(1, 100, "", "Give how many loops it takes."),
				v.integer(expected("a whole number", "Give how many loops it takes.")),
			),
		),
	}),
};

export type Kind = keyof typeof propertySchemas;

export const kinds = Object.keys(propertySchemas) as readonly Kind[];
