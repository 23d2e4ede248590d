import type { Point } from "@oxturn/geometry";
import { type Box, boxAround, boxAt, boxesOverlap, middleOf, regionMeetsBox } from "../paper.ts";
import { shorten, textWidth } from "../text.ts";
import { letter } from "../tokens.ts";
import { ID_WIDTH, type ManifoldDrawing, type ManifoldTag } from "./manifoldDrawing.ts";
import type { Surroundings } from "./surroundings.ts";
import { shift } from "./wallFrame.ts";

/** mm on paper between the body and the id. */
const GAP = 0.6;

/** The id in the wall beside the body where no doorway is, else behind the body. */
export function tagBeside(drawing: ManifoldDrawing, { doorways, taken }: Surroundings): ManifoldTag {
	const { manifold, strip } = drawing;
	const text = shorten(manifold.id, ID_WIDTH, letter.small, true);
	const isUpright = !(strip?.isUpright ?? true); // along the wall: ports side by side hang in a level one
	const [long, high] = [textWidth(text, letter.small, true) + 0.8, letter.small * 1.25];
	const [width, height] = isUpright ? [high, long] : [long, high];
	const boxes = placesAt(drawing, isUpright, long, high).map((place) => boxAt(place, width, height));
	const isFree = (box: Box): boolean =>
		!doorways.some((doorway) => regionMeetsBox(doorway, box)) && !taken.some((other) => boxesOverlap(box, other));
	return { box: boxes.find(isFree) ?? boxes[boxes.length - 1]!, text, isUpright };
}

/** Middles of an id that is `long` and `high` mm of paper: to either side of the body, then behind it. */
function placesAt({ frame, body }: ManifoldDrawing, isUpright: boolean, long: number, high: number): readonly Point[] {
	const box = boxAround(body);
	const [x, y] = middleOf(box);
	const aside = (isUpright ? box.bottom - box.top : box.right - box.left) / 2 + long / 2 + GAP;
	return [
		...[aside, -aside].map((step): Point => (isUpright ? [x, y + step] : [x + step, y])),
		shift(frame, [x, y], -(frame.depth / 2 + high / 2 + GAP)),
	];
}
