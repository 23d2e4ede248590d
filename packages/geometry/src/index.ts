export { degrees, radians } from "./angles.ts";
export { type BetweenLinesOptions, betweenLines } from "./betweenLines.ts";
export { difference, intersect, type Join, type OffsetOptions, offset, thicken, union } from "./boolean.ts";
export {
	type Curve,
	type CurvedPath,
	type CurvePlan,
	curvedPaths,
	curvesBetween,
	flattenCurve,
	type Pose,
} from "./dubins.ts";
export { arcPoints, type FilletOptions, type FilletResult, fillet } from "./fillet.ts";
export {
	boundingBox,
	inwardCorners,
	largestFirst,
	nearestOnRing,
	pathLength,
	pointSegmentDistance2,
	positionsAlong,
	type RingPlace,
	regionArea,
	regionContains,
	ringContains,
	ringsOf,
	segmentDistance2,
	segmentsCross,
	signedArea,
} from "./measure.ts";
export {
	openedWithin,
	openRegions,
	roundInwardCorners,
	roundOutwardCorners,
	roundRegions,
	SPECK,
} from "./morphology.ts";
export { roundPath } from "./roundPath.ts";
export { simplifyRing } from "./simplify.ts";
export type * from "./types.ts";
export {
	add,
	cross,
	direction,
	distance,
	dot,
	leftOf,
	pointBetween,
	rotate,
	scale,
	subtract,
	turnBetween,
} from "./vector.ts";
