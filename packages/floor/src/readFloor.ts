import { checkPlacement } from "./checkPlacement.ts";
import { memberOf, readPart } from "./expect.ts";
import { documentSchema, systemSchema } from "./floorSchema.ts";
import { parseJson } from "./parseJson.ts";
import { DOCUMENT, FloorError, type Problem } from "./problems.ts";
import { areOfLayout, type FeatureDrafts, readFeatures } from "./readFeatures.ts";
import { sharingRead } from "./sharing.ts";
import type { Doorway, Floor, Keepout, Manifold, Notice, Room, System } from "./types.ts";

/** Smallest bend radius of a pipe that does not state its own, in outer diameters. */
const BEND_DIAMETERS = 5;

/** A floor that has been read, and what its designer should know about the reading. */
export interface ReadFloor {
	readonly floor: Floor;
	readonly notices: readonly Notice[];
}

function readSystem(input: unknown, problems: Problem[]): System | undefined {
	const system = readPart(systemSchema, input === undefined ? {} : input, DOCUMENT, "system", problems);
	if (!system) return undefined;
	const { outerDiameter, wallThickness, minBendRadius = BEND_DIAMETERS * outerDiameter } = system.pipe;
	const { maxLoopLength, spacing, edgeDistance, tailSpacing } = system;
	return {
		pipe: { outerDiameter, wallThickness, minBendRadius },
		maxLoopLength,
		spacing,
		edgeDistance,
		tailSpacing,
	};
}

function findMissingFeatures({ rooms, manifolds, isComplete }: FeatureDrafts): Problem[] {
	if (!isComplete) return [];
	const missing = (message: string): Problem => ({ subject: DOCUMENT, member: "features", message });
	return [
		...(rooms.length > 0 ? [] : [missing("found no room, expected at least one. Add a room's outline.")]),
		...(manifolds.length > 0 ? [] : [missing("found no manifold, expected at least one. Add a manifold on a wall.")]),
	];
}

/** Puts the floor together from drafts that have no problem, so that nothing in them is missing. */
function assemble(
	name: string,
	system: System,
	drafts: FeatureDrafts,
	joins: ReadonlyMap<string, readonly [string, string]>,
): Floor {
	const rooms = drafts.rooms.map(({ id, name, region, properties }): Room => {
		const { heated, pattern, spacing = system.spacing, share } = properties!;
		const edgeDistance = system.edgeDistance ?? spacing / 2;
		return {
			id,
			name,
			region: region!,
			heated,
			spacing,
			edgeDistance,
			...sharingRead(share, region!),
			pattern,
		};
	});
	const doorways = drafts.doorways.map(({ id, region }): Doorway => ({ id, region: region!, between: joins.get(id)! }));
	const keepouts = drafts.keepouts.map(({ id, name, region }): Keepout => ({ id, name, region: region! }));
	const manifolds = drafts.manifolds.map(({ id, position, facing, properties }): Manifold => {
		const { portPitch, ports } = properties!;
		return { id, position: position!, facing: facing!, portPitch, ports };
	});
	return { name, system, rooms, doorways, keepouts, manifolds };
}

/**
 * Reads a floor document: checks it, cleans its outlines and fills in defaults. The document is left as it is.
 *
 * Throws a `FloorError` with every problem that it finds, each naming the feature and the member. The notices tell
 * what cleaning changed visibly, and which keep-outs change nothing.
 */
export function readFloor(document: unknown): ReadFloor {
	const problems: Problem[] = [];
	const top = readPart(documentSchema, document, DOCUMENT, "", problems);
	const system = readSystem(memberOf(document, "system"), problems);
	const features = memberOf(document, "features");
	if (!Array.isArray(features)) throw new FloorError(problems);

	if (areOfLayout(features)) {
		const message =
			"found loops, which make a layout, expected a floor: rooms and a manifold. Give the floor's document.";
		throw new FloorError([...problems, { subject: DOCUMENT, member: "features", message }]);
	}

	const drafts = readFeatures(features);
	const { problems: misplaced, notices, joins } = checkPlacement(drafts);
	const all = [...problems, ...drafts.problems, ...misplaced, ...findMissingFeatures(drafts)];
	if (!top || !system || all.length > 0) throw new FloorError(all);
	return { floor: assemble(top.name, system, drafts, joins), notices: [...drafts.notices, ...notices] };
}

/**
 * Reads a floor document from its JSON text, as `readFloor` does. For text that is no JSON the `FloorError` tells the
 * line and the column.
 */
export function readFloorText(text: string): ReadFloor {
	const parsed = parseJson(text);
	if ("problem" in parsed) throw new FloorError([parsed.problem]);
	return readFloor(parsed.value);
}
