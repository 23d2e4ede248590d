import type { Point } from "oxturn";
import { type Draft, emptyDraft } from "../document/draft.ts";
import { addRoom } from "../edit/features.ts";
import { withFirstManifold } from "../edit/manifolds.ts";
import { setSystemNumber } from "../edit/settings.ts";

/** Seeds that the page offers. */
export const MOST_SEED = 999_999_999;

/** Even numbers from 0 up to 1, the same for the same seed (mulberry32). */
function numbersFrom(seed: number): () => number {
	let state = seed >>> 0;
	return () => {
		state = (state + 0x6d2b79f5) >>> 0;
		let mixed = Math.imul(state ^ (state >>> 15), state | 1);
		mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
		return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
	};
}

/** An outline of upright steps: a strip of floor whose lower and upper edge go up and down from bay to bay. */
function steppedOutline(next: () => number): readonly Point[] {
	const bays = 2 + Math.floor(next() * 3);
	const step = (least: number, most: number): number => Math.round((least + next() * (most - least)) / 100) * 100;
	const below: Point[] = [];
	const above: Point[] = [];
	let x = 0;
	for (let bay = 0; bay < bays; bay += 1) {
		const width = step(1300, 2900);
		// neighbours overlap by at least 1.3 m, so the floor is one piece
		const [low, high] = [step(-900, 600), step(1900, 4200)];
		below.push([x, low], [x + width, low]);
		above.push([x, high], [x + width, high]);
		x += width;
	}
	return [...below, ...above.reverse()];
}

/** An outline of slanted walls round a middle. */
function slantedOutline(next: () => number): readonly Point[] {
	const corners = 5 + Math.floor(next() * 4);
	const turn = next() * Math.PI;
	return Array.from({ length: corners }, (_, corner): Point => {
		const angle = turn + ((corner + 0.5 * next()) * 2 * Math.PI) / corners;
		const radius = 1700 + next() * 1500;
		return [Math.round(radius * Math.cos(angle) * 1.3), Math.round(radius * Math.sin(angle))];
	});
}

/** Corners without those that lie on a straight wall. */
function withoutStraight(corners: readonly Point[]): readonly Point[] {
	return corners.filter((corner, index) => {
		const before = corners[(index + corners.length - 1) % corners.length] ?? corner;
		const after = corners[(index + 1) % corners.length] ?? corner;
		return (corner[0] - before[0]) * (after[1] - before[1]) - (corner[1] - before[1]) * (after[0] - before[0]) !== 0;
	});
}

/** A room of any shape with a manifold, the same for the same seed. */
export function randomRoom(seed: number, name: string): Draft {
	const next = numbersFrom(seed);
	const outline = next() < 0.65 ? steppedOutline(next) : slantedOutline(next);
	const spacing = 125 + 25 * Math.floor(next() * 4);
	const { draft, id } = addRoom({ ...emptyDraft, name }, withoutStraight(outline), name);
	return withFirstManifold(setSystemNumber(draft, "spacing", spacing), id);
}
