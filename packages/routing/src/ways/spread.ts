import { dot, type Point, subtract } from "@oxturn/geometry";
import { type Lane, rightOf } from "../tails/lanes.ts";
import { lanesFrom, sideLanes } from "./exitLanes.ts";
import type { Families } from "./families.ts";
import { fanOut } from "./fan.ts";
import { type Frame, type LayTurnsOptions, SLACK } from "./laying.ts";
import { isAhead, sideOf } from "./turns.ts";

/** Pipes that go straight on through a door may come this near to its jambs, mm. */
const NEAR_JAMB = 20;

/** The pipes that leave the wall they come in by: those of the ways straight ahead, from the first to before the second. */
export function spreadOf({ all }: Families): readonly [from: number, to: number] {
	const ahead = all.filter(({ way }) => isAhead(way));
	const last = ahead.at(-1);
	return last ? [ahead[0]!.from, last.from + last.count] : [0, 0];
}

/**
 * The families that leave the wall they come in by spread out to the tails' pitch, or shift to a door that lies
 * straight on. Gives their lanes and the lanes in the doorways that no wall leads to.
 */
export function spread(
	options: LayTurnsOptions,
	families: Families,
	{ entry, axis, reachIn, nearest }: Frame,
): { lanes: readonly Lane[]; exits: ReadonlyMap<number, Lane[]> } {
	const { doors, doorLanes, system, passage } = options;
	const middle = families.all.find(({ way }) => way === "direct");
	const [from, to] = spreadOf(families);
	const lanes = options.lanes.slice(from, to);
	const exits = new Map<number, Lane[]>();
	if (lanes.length === 0) return { lanes, exits };
	const { pitch } = doorLanes;
	const origin = options.lanes[0]!.at;
	const lateral = (p: Point): number => dot(subtract(p, origin), rightOf(axis));
	const places = lanes.map(({ at }) => lateral(at));
	const centre = (places[0]! + places.at(-1)!) / 2;
	// Own loops to one side keep their way straight on, so the group spreads to the other.
	const wider = (places.length - 1) * pitch - (places.at(-1)! - places[0]!);
	const ownLeft = families.own.some((own) => own.to === from && own.from < from) ? 1 : 0;
	const ownRight = families.own.some((own) => own.from === to && own.to > to) ? 1 : 0;
	const aside = (ownLeft > 0 ? wider / 2 : 0) - (ownRight > 0 ? wider / 2 : 0);
	const targets = places.map((_, i) => centre + aside + (i - (places.length - 1) / 2) * pitch);
	let before = (middle?.from ?? 0) - from;
	for (const door of middle?.doors ?? []) {
		const { passage: through, pipes } = doors[door]!;
		const side = sideOf(through, entry, axis);
		if (side) exits.set(door, sideLanes(through, side, pipes, { entry, axis, nearest }, doorLanes));
		else {
			const centred = (places[before]! + places[before + pipes - 1]! - (pipes - 1) * pitch) / 2;
			const found = lanesFrom(through, pipes, centred - lateral(through.middle), { ...doorLanes, margin: NEAR_JAMB });
			const first = lateral(found[0]!.at);
			for (let i = 0; i < targets.length; i++) targets[i] = first + (i - before) * pitch;
			exits.set(door, found);
		}
		before += pipes;
	}
	const beside = Math.max(from, options.lanes.length - to);
	const closest = system.pipe.outerDiameter + 3;
	const fan = fanOut({
		lanes,
		shifts: targets.map((target, i) => target - places[i]!),
		from: beside > 0 ? nearest + (beside - 1) * pitch + reachIn : Math.max(0, reachIn) + SLACK,
		apart: passage ? pitch : closest + options.manner.spreading * (pitch - closest),
		minBendRadius: system.pipe.minBendRadius,
		slant: options.manner.slant,
	});
	return { lanes: fan.lanes, exits };
}
