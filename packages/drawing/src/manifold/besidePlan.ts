import type { Point } from "@oxturn/geometry";
import { type Box, boxAround, boxAt, boxesOverlap, middleOf, regionMeetsBox, sizeOf, unionOfBoxes } from "../paper.ts";
import type { ManifoldDrawing, PortStrip } from "./manifoldDrawing.ts";
import type { Surroundings } from "./surroundings.ts";
import { tagBeside } from "./tagBeside.ts";

/** mm on paper: from the walls to a strip beside the plan, and from one place that is tried for it to the next. */
const BESIDE = 2;
const STEP = 3;
/** Places that are tried along either side of the plan at the most. */
const MOST_STEPS = 40;
/** What each mm is worth, in mm of the way to the manifold, by which a strip makes the plan wider or higher. */
const GROWTH = 3;

/** Moves a strip out of the plan to the nearest place that is free; undefined for a manifold that has no strip. */
export function besidePlan(drawing: ManifoldDrawing, around: Surroundings): ManifoldDrawing | undefined {
	const { strip, body } = drawing;
	if (strip === undefined) return undefined;
	const places = placesRound(strip.box, middleOf(boxAround(body)), around);
	const place = places.find((box) => isFree(box, around));
	return place === undefined ? undefined : withStripAt(place, strip, drawing, around);
}

/** Places for a strip as large as the given one on and round the plan, those first that are near and let it stay small. */
function placesRound(strip: Box, near: Point, { rooms, wall, taken }: Surroundings): readonly Box[] {
	const walls = rooms.map(({ outer }) => boxAround(outer, wall));
	const whole = unionOfBoxes([...walls, ...taken]);
	const { width, height } = sizeOf(strip);
	// the outermost places are a little farther off than they have to be
	const columns = steps(whole.left - 2 * BESIDE - width / 2, whole.right + 2 * BESIDE + width / 2);
	const rows = steps(whole.top - 2 * BESIDE - height / 2, whole.bottom + 2 * BESIDE + height / 2);
	const costed = columns.flatMap((x) =>
		rows.map((y) => {
			const box = boxAt([x, y], width, height);
			return { box, cost: Math.hypot(x - near[0], y - near[1]) + GROWTH * growthBy(box, whole) };
		}),
	);
	// array sorting is stable: of places that cost the same the first stays first
	return costed.sort((a, b) => a.cost - b.cost).map(({ box }) => box);
}

/** How much wider and higher, together, a box makes the whole, mm on paper. */
function growthBy(box: Box, whole: Box): number {
	const { left, right, top, bottom } = unionOfBoxes([whole, box]);
	return right - left - (whole.right - whole.left) + (bottom - top) - (whole.bottom - whole.top);
}

/** Places from one to the other, a step apart where that does not take too many. */
function steps(from: number, to: number): number[] {
	const count = Math.max(1, Math.min(MOST_STEPS, Math.ceil((to - from) / STEP)));
	return Array.from({ length: count + 1 }, (_, i) => from + ((to - from) * i) / count);
}

function isFree({ left, right, top, bottom }: Box, { rooms, wall, taken }: Surroundings): boolean {
	const corners: readonly Point[] = [
		[left, top],
		[right, bottom],
	];
	const wide = boxAround(corners, wall + BESIDE);
	return !rooms.some((room) => regionMeetsBox(room, wide)) && !taken.some((other) => boxesOverlap(wide, other));
}

/** The drawing with its strip and its title moved to `place`, and its id at the body instead. */
function withStripAt(place: Box, strip: PortStrip, drawing: ManifoldDrawing, around: Surroundings): ManifoldDrawing {
	const [dx, dy] = [place.left - strip.box.left, place.top - strip.box.top];
	const move = (box: Box): Box => ({
		left: box.left + dx,
		right: box.right + dx,
		top: box.top + dy,
		bottom: box.bottom + dy,
	});
	const tag = tagBeside(drawing, around);
	return {
		...drawing,
		strip: { ...strip, box: place, cells: strip.cells.map((cell) => ({ ...cell, box: move(cell.box) })) },
		tag,
		titleBox: move(drawing.titleBox),
		boxes: [boxAround(drawing.body), place, tag.box],
	};
}
