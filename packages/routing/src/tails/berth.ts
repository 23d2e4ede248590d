import { distance, type Path, type Point, pointBetween, type Region, thicken, union } from "@oxturn/geometry";
import type { ClearanceRules } from "./clearance.ts";

/** From this share of the apron on pipes lie one tail spacing apart. */
const SPREAD_FROM = 0.93;
/** From close to spread in so many steps. */
const STEPS = 5;
/** Pieces of pipe are held against the apron in lengths of this, mm. */
const PIECE = 60;
/** A hair more than the rules ask for, mm. */
const HAIR = 1.2;
/** Round berths are flattened to this, mm. */
export const ARC_TOLERANCE = 0.25;

/** How near a pipe may lie to another one. */
export interface Nearness {
	/** Centre to centre beyond the apron, mm. */
	readonly pitch: number;
	/** Up to this share of the apron it lies as close as it may there. */
	readonly closeTo: number;
}

/** The floor round pipes that others beside them keep out of. */
export type Berth = (pipes: readonly Path[], nearness: Nearness) => readonly Region[];

/** How far a pipe keeps off another one in each step from the apron's middle to its rim, mm. */
const offAt = (step: number, { apartAtManifold }: ClearanceRules, pitch: number): number =>
	HAIR + apartAtManifold + (Math.max(0, pitch - apartAtManifold) * step) / STEPS;

/** The step that holds at a distance from the manifold. */
function stepAt(away: number, { apronReach }: ClearanceRules, closeTo: number): number {
	const share = (away / apronReach - closeTo) / (SPREAD_FROM - closeTo);
	return Math.max(0, Math.min(STEPS, Math.ceil(share * STEPS)));
}

function berthOf(pipe: Path, { pitch, closeTo }: Nearness, rules: ClearanceRules): Region[] {
	const pieces: Point[][][] = Array.from({ length: STEPS + 1 }, () => []);
	let last = -1;
	for (let i = 0; i + 1 < pipe.length; i++) {
		const a = pipe[i]!;
		const b = pipe[i + 1]!;
		const isFar =
			Math.min(distance(a, rules.manifold), distance(b, rules.manifold)) > rules.apronReach + distance(a, b);
		const count = isFar ? 1 : Math.max(1, Math.ceil(distance(a, b) / PIECE));
		for (let k = 0; k < count; k++) {
			const from = pointBetween(a, b, k / count);
			const to = pointBetween(a, b, (k + 1) / count);
			const step = stepAt(distance(pointBetween(from, to, 0.5), rules.manifold), rules, closeTo);
			if (step === last) pieces[step]!.at(-1)!.push(to);
			else pieces[step]!.push([from, to]);
			last = step;
		}
	}
	return pieces.flatMap((own, step) =>
		own.length === 0 ? [] : thicken(own, offAt(step, rules, pitch), { join: "round", arcTolerance: ARC_TOLERANCE }),
	);
}

/** What some pipes take, and one more beside them. */
interface Berths {
	readonly regions: readonly Region[];
	readonly withOne: Map<Path, Berths>;
}

const none = (): Berths => ({ regions: [], withOne: new Map() });

/** Berths by these rules, each made once: every pipe that is laid later asks for those of all before it. */
export function berthsBy(rules: ClearanceRules): Berth {
	const known = new Map<string, Berths>();
	return (pipes, nearness) => {
		const key = `${nearness.pitch} ${nearness.closeTo}`;
		let berths = known.get(key) ?? none();
		known.set(key, berths);
		for (const pipe of pipes) {
			const more = berths.withOne.get(pipe) ?? {
				...none(),
				regions: union([...berths.regions, ...berthOf(pipe, nearness, rules)]),
			};
			berths.withOne.set(pipe, more);
			berths = more;
		}
		return berths.regions;
	};
}
