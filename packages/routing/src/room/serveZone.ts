import { largestFirst, type Path, type Point, pathLength, type Region, type Ring } from "@oxturn/geometry";
import { type FloorMap, mapFloor } from "../field/coverage.ts";
import { type FilledField, fillField } from "../field/fillField.ts";
import { intoNooks } from "../field/intoNooks.ts";
import { fingerprint } from "../fingerprint.ts";
import { sum } from "../sum.ts";
import { endsAlongWall } from "../tails/alongWall.ts";
import type { Entrance, PortPair } from "../tails/apron.ts";
import { clearOfPipes, ringStaysOnFloor } from "../tails/clearance.ts";
import { type JoinedLoop, joinLoop } from "../tails/joinLoop.ts";
import { foundReach, type LazyReach, type Tails } from "./ownTails.ts";
import type { RoomSetting } from "./roomSetting.ts";
import { besidePipes, beyondRim, isAt, plainer } from "./zoneFloor.ts";

/** Cells of the map that fields are compared on, per spacing. */
const MAP_DETAIL = 3;
/** Fields tried before a zone is given up. */
const MAX_FIELDS = 8;
const MAX_HURRIED_FIELDS = 3;
const MAX_FAR_FIELDS = 2;
/** The same for one whose loop goes on to other rooms: every field has several ways there. */
const MAX_LED_ON = 3;
/** And the best so many are led into nooks. */
const MOST_LED_INTO_NOOKS = 4;
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
	reaches: readonly LazyReach[],
	ring: Ring,
	others: readonly Path[],
): JoinedLoop | undefined {
	const { spacing, rules, spend } = setting;
	const reach = Math.max(6 * spacing, 10 * rules.minBendRadius);
	for (const ends of reaches) {
		spend(1);
		const joined = joinLoop({ left: ends.left(), right: ends.right(), ring, others, spacing, rules, reach });
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
			if (setting.isSparing() && straight > 0) return undefined;
			const ways = setting.wallWays(pair, side, { straight, rank: 0 });
			const reach = endsAlongWall({ ways, side, ring, spacing, rules, others });
			if (reach.left.length === 0 || reach.right.length === 0) continue;
			const joined = joinByAny(setting, [foundReach(reach)], ring, others);
			if (joined) return joined;
		}
	return undefined;
}

interface Served {
	readonly field: FilledField;
	readonly path: Path;
}

/** A zone that is served. */
export interface ServedZone extends Served {
	/** Pipe that its loop would take more, if it were not to keep within its length at the cost of floor that stays cold, mm. */
	readonly lacking: number;
}

/** The place by which a spiral had best be opened. */
const gateOf = ({ reaches }: Tails, entrance: Entrance): Point =>
	reaches.findLast(({ right }) => right().length > 0)?.right()[0]?.pose.at ?? entrance.at;

/** One zone to be served. */
interface ZoneSetting {
	readonly setting: RoomSetting;
	readonly zone: readonly Region[];
	readonly pair: PortPair;
	readonly tails: Tails;
	/** Directions of the runs to try, radians. */
	readonly directions: readonly number[];
	readonly others: readonly Path[];
	readonly map: FloorMap;
	/** The same with its nooks, if it has any. */
	readonly nookMap: FloorMap | undefined;
	/** Longest outline that leaves room for the tails, mm. */
	readonly longest: number;
}

/** What a loop may have in its field, mm. */
function longestField({ system, entrance, onward }: RoomSetting, { paths }: Tails): number {
	const tails = sum(paths.map(pathLength)) + (paths.length > 0 ? LEADS : LEADS_FROM_PORTS);
	return system.maxLoopLength * 1000 - entrance.spent - (onward?.length ?? 0) - tails;
}

/** Fields in a floor, the best first. */
function fieldsIn(floor: readonly Region[], isThorough: boolean, zone: ZoneSetting): FilledField[] {
	const { setting, map, directions, tails, others, longest } = zone;
	const { spacing, rules, system, room, entrance, pattern } = setting;
	const { minBendRadius } = system.pipe;
	return fillField({
		floor,
		map,
		spacing,
		minBendRadius,
		pattern,
		care: isThorough ? "thorough" : setting.expired() ? "hurried" : "usual",
		directions,
		// Only spirals are opened there.
		gate: pattern === "serpentine" ? entrance.at : gateOf(tails, entrance),
		rim: beyondRim(room, system),
		apart: rules.apart,
		others,
		longest,
	});
}

/** The fields that are tried, of those that cost less than `least`: led into nooks where that is worth it, too. */
function usableFields(fields: readonly FilledField[], least: number, zone: ZoneSetting): FilledField[] {
	const { setting, longest, nookMap } = zone;
	const { spacing, nooks, rules } = setting;
	const most = setting.onward ? MAX_LED_ON : setting.expired() ? MAX_HURRIED_FIELDS : MAX_FIELDS;
	const likeliest = fields.slice(0, most).filter(({ cost }) => cost < least);
	if (!nookMap || setting.expired()) return likeliest;
	const led = likeliest
		.slice(0, MOST_LED_INTO_NOOKS)
		.flatMap((field) => intoNooks(field, nooks, { map: nookMap, spacing, longest, apart: rules.apart }) ?? []);
	return [...led, ...likeliest].sort((a, b) => a.cost - b.cost);
}

/** What tails are joined to: a field's outline, or ways to lead that on. */
function outlinesOf({ ring }: FilledField, { setting: { onward }, others, longest }: ZoneSetting): readonly Ring[] {
	if (!onward) return [ring];
	return pathLength(ring) > longest ? [] : onward.rings(ring, others);
}

/** The first of some fields that can be joined to the tails. */
function joinFirst(
	fields: readonly FilledField[],
	reaches: readonly LazyReach[],
	zone: ZoneSetting,
): Served | undefined {
	const { setting, pair, tails, others } = zone;
	// Where a turn is rounded at the tip of a spur, it may lie off the floor.
	const isSound = ({ ring }: FilledField): boolean => ringStaysOnFloor(ring, setting.rules);
	for (const field of fields) {
		if (!isSound(field)) continue;
		for (const ring of outlinesOf(field, zone)) {
			const joined = joinByAny(setting, reaches, ring, others);
			if (joined) return { field, path: joined.path };
		}
	}
	// Where other tails pass, the field may begin far from where its own come in.
	if (tails.paths.length > 0) return undefined;
	for (const field of fields.filter(isSound).slice(0, MAX_FAR_FIELDS))
		for (const ring of outlinesOf(field, zone)) {
			const joined = joinAlongWall(setting, pair, ring, others);
			if (joined) return { field, path: joined.path };
		}
	return undefined;
}

/** Ways between the tails of others to a zone at the manifold; to the zone itself first, then to its plainer part. */
function waysBetween({ setting, zone, tails }: ZoneSetting) {
	const waysTo = (pieces: readonly Region[]) =>
		tails
			.between((place) => pieces.some((piece) => isAt(piece, place, setting.spacing)))
			.map(({ reach, paths }) => ({ reaches: [foundReach(reach), ...tails.reaches], paths }));
	const near = waysTo(zone);
	const known = new Set(near.map(({ paths }) => fingerprint(paths)));
	// Farther on where they have come to arms of it that are too narrow for a field.
	const far = waysTo(largestFirst(plainer(zone, setting.spacing)).slice(0, 1));
	return [...near, ...far.filter(({ paths }) => !known.has(fingerprint(paths)))];
}

/** Fields that lack no more than this beyond the best are as good, and one that lacks so much more is worse. */
const AS_GOOD = 0.02;

/** How much longer than a field the shortest of those is that fill the zone well, if it lacks more than these, mm. */
function lackingIn(field: FilledField, fields: readonly FilledField[]): number {
	const lackOf = ({ lack, excess }: FilledField): number => lack - excess;
	const most = Math.min(...fields.map(lackOf)) + AS_GOOD;
	if (lackOf(field) <= most) return 0;
	const lengths = fields.filter((one) => lackOf(one) <= most).map(({ ring }) => pathLength(ring));
	return Math.max(0, Math.min(...lengths) - pathLength(field.ring));
}

/** Fills a zone with the best field that can be joined to its tails; on a rough floor in the plainer zone too. */
export function serveZone(
	setting: RoomSetting,
	zone: readonly Region[],
	pair: PortPair,
	tails: Tails,
	directions: readonly number[],
	others: readonly Path[],
): ServedZone | "no field" | undefined {
	const { spacing, nooks } = setting;
	const map = mapFloor(zone, spacing / MAP_DETAIL);
	const nookMap =
		nooks.length > 0 ? mapFloor([...zone, ...nooks.flatMap((nook) => nook.floor)], spacing / MAP_DETAIL) : undefined;
	const longest = longestField(setting, tails);
	const whole: ZoneSetting = { setting, zone, pair, tails, directions, others, map, nookMap, longest };
	const fields = fieldsIn(zone, false, whole);
	const lacking = (served: Served): ServedZone => ({ ...served, lacking: lackingIn(served.field, fields) });
	const inWhole = joinFirst(usableFields(fields, Infinity, whole), tails.reaches, whole);
	if (inWhole && (inWhole.field.lack <= ROUGH || setting.expired())) return lacking(inWhole);
	const plainFields = fieldsIn(plainer(zone, spacing), true, whole);
	const least = inWhole?.field.cost ?? Infinity;
	const best = joinFirst(usableFields(plainFields, least, whole), tails.reaches, whole) ?? inWhole;
	if (fields.length + plainFields.length === 0) return "no field";
	if (best) return lacking(best);
	// Where its own tails run through it a long way, no field that fills it keeps clear of them.
	const own = tails.paths.length > 0 ? [{ reaches: tails.reaches, paths: tails.paths }] : undefined;
	const ways = own ?? (setting.isSparing() ? [] : waysBetween(whole));
	for (const { reaches, paths } of ways) {
		const beside = fieldsIn(besidePipes(zone, paths, setting), false, whole);
		const served = joinFirst(usableFields(beside, Infinity, whole), reaches, whole);
		if (served) return lacking(served);
	}
	return undefined;
}

/** Lays the loop of one zone. */
export type ServeZone = typeof serveZone;
