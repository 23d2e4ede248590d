import { largestFirst, type Path, type Point, pathLength, type Region, type Ring } from "@oxturn/geometry";
import { mapFloor } from "./field/coverage.ts";
import { type FilledField, fillField } from "./field/fillField.ts";
import { fingerprint } from "./fingerprint.ts";
import type { RoomSetting } from "./roomSetting.ts";
import { sum } from "./sum.ts";
import { endsAlongWall, type Reach } from "./tails/alongWall.ts";
import type { Entrance, PortPair } from "./tails/apron.ts";
import { clearOfPipes, ringStaysOnFloor } from "./tails/clearance.ts";
import { type JoinedLoop, joinLoop } from "./tails/joinLoop.ts";
import { besidePipes, isAt, plainer } from "./zoneFloor.ts";
import type { Tails } from "./zoneTails.ts";

/** Cells of the map that fields are compared on, per spacing. */
const MAP_DETAIL = 3;
/** Fields tried before a zone is given up. */
const MAX_FIELDS = 8;
const MAX_HURRIED_FIELDS = 3;
const MAX_FAR_FIELDS = 2;
/** The same for one whose loop goes on to other rooms: every field has several ways there. */
const MAX_LED_ON = 3;
/** Between other tails, a tail goes straight on for this long before it turns along the wall, mm. */
const STRAIGHT_IN = Array.from({ length: 13 }, (_, i) => 100 * i);
/** Pipe that leads from tails to fields take, about, mm; and those from ports, where there are no tails. */
const LEADS = 200;
const LEADS_FROM_PORTS = 900;
/** A field that lacks more than this is compared with one in the plainer zone. */
const ROUGH = 0.06;

/** Joins a field to its tails by the first of their places that serves. */
function joinByAny(
	setting: RoomSetting,
	reaches: readonly Reach[],
	ring: Ring,
	others: readonly Path[],
): JoinedLoop | undefined {
	const { spacing, rules } = setting;
	const reach = Math.max(6 * spacing, 10 * rules.minBendRadius);
	for (const ends of reaches) {
		const joined = joinLoop({ ...ends, ring, others, spacing, rules, reach });
		if (joined && clearOfPipes(joined.path, others, rules)) return joined;
	}
	return undefined;
}

/** Joins a field that begins far from its entrance, by tails along the wall on either side. */
function joinAlongWall(
	setting: RoomSetting,
	pair: PortPair,
	ring: Ring,
	others: readonly Path[],
): JoinedLoop | undefined {
	const { spacing, rules } = setting;
	for (const straight of STRAIGHT_IN)
		for (const side of ["left", "right"] as const) {
			if (setting.expired() && straight > 0) return undefined;
			const ways = setting.wallWays(pair, side, straight);
			const reach = endsAlongWall({ ways, side, ring, spacing, rules, others });
			if (reach.left.length === 0 || reach.right.length === 0) continue;
			const joined = joinByAny(setting, [reach], ring, others);
			if (joined) return joined;
		}
	return undefined;
}

interface Served {
	readonly field: FilledField;
	readonly path: Path;
}

/** The place by which a spiral had best be opened. */
const gateOf = (tails: Tails, entrance: Entrance): Point =>
	tails.reaches.findLast(({ right }) => right.length > 0)?.right[0]?.pose.at ?? entrance.at;

/** Fills a zone with the best field that can be joined to its tails; on a rough floor in the plainer zone too. */
export function serveZone(
	setting: RoomSetting,
	zone: readonly Region[],
	pair: PortPair,
	tails: Tails,
	directions: readonly number[],
	others: readonly Path[],
): Served | "no field" | undefined {
	const { spacing, rules, system } = setting;
	const { minBendRadius, outerDiameter } = system.pipe;
	const map = mapFloor(zone, spacing / MAP_DETAIL);
	const longest =
		system.maxLoopLength * 1000 -
		setting.entrance.spent -
		(setting.onward?.length ?? 0) -
		sum(tails.paths.map(pathLength)) -
		(tails.paths.length > 0 ? LEADS : LEADS_FROM_PORTS);
	/** What tails are joined to: the field's outline, or ways to lead that on. */
	const outlinesOf = ({ ring }: FilledField): readonly Ring[] => {
		if (!setting.onward) return [ring];
		return pathLength(ring) > longest ? [] : setting.onward.rings(ring, others);
	};
	let tried = 0;
	/** The best in a floor, if it costs less than `least`. */
	const bestIn = (
		floor: readonly Region[],
		least: number,
		thorough: boolean,
		reaches = tails.reaches,
	): Served | undefined => {
		const fields = fillField({
			floor,
			map,
			spacing,
			minBendRadius,
			pattern: setting.pattern,
			care: thorough ? "thorough" : setting.expired() ? "hurried" : "usual",
			directions,
			// Only spirals are opened there.
			gate: setting.pattern === "serpentine" ? setting.entrance.at : gateOf(tails, setting.entrance),
			rim: Math.max(0, setting.room.edgeDistance - outerDiameter / 2 - 1),
			apart: rules.apart,
			longest,
		});
		tried += fields.length;
		const most = setting.onward ? MAX_LED_ON : setting.expired() ? MAX_HURRIED_FIELDS : MAX_FIELDS;
		const usable = fields.slice(0, most).filter(({ cost }) => cost < least);
		// Where a turn is rounded at the tip of a spur, it may lie off the floor.
		const isSound = ({ ring }: FilledField): boolean => ringStaysOnFloor(ring, rules);
		for (const field of usable) {
			if (!isSound(field)) continue;
			for (const ring of outlinesOf(field)) {
				const joined = joinByAny(setting, reaches, ring, others);
				if (joined) return { field, path: joined.path };
			}
		}
		// Where other tails pass, the field may begin far from where its own come in.
		if (tails.paths.length > 0) return undefined;
		for (const field of usable.filter(isSound).slice(0, MAX_FAR_FIELDS))
			for (const ring of outlinesOf(field)) {
				const joined = joinAlongWall(setting, pair, ring, others);
				if (joined) return { field, path: joined.path };
			}
		return undefined;
	};
	const whole = bestIn(zone, Infinity, false);
	if (whole && (whole.field.lack <= ROUGH || setting.expired())) return whole;
	const best = bestIn(plainer(zone, spacing), whole?.field.cost ?? Infinity, true) ?? whole;
	if (tried === 0) return "no field";
	if (best) return best;
	// Where its own tails run through it a long way, no field that fills it keeps clear of them.
	const waysTo = (pieces: readonly Region[]) =>
		tails
			.between((place) => pieces.some((piece) => isAt(piece, place, spacing)))
			.map(({ reach, paths }) => ({ reaches: [reach, ...tails.reaches], paths }));
	/** To the zone, and farther on where they have come to arms of it that are too narrow for a field. */
	const waysBetween = () => {
		const near = waysTo(zone);
		const known = new Set(near.map(({ paths }) => fingerprint(paths)));
		const far = waysTo(largestFirst(plainer(zone, spacing)).slice(0, 1));
		return [...near, ...far.filter(({ paths }) => !known.has(fingerprint(paths)))];
	};
	const ways = tails.paths.length > 0 ? [{ reaches: tails.reaches, paths: tails.paths }] : waysBetween();
	for (const { reaches, paths } of ways) {
		const served = bestIn(besidePipes(zone, paths, setting), Infinity, false, reaches);
		if (served) return served;
	}
	return undefined;
}

/** Lays the loop of one zone. */
export type ServeZone = typeof serveZone;
