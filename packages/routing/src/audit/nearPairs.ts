import type { Segments } from "./segments.ts";

/*
 * Finds the segments of pipes that come near to each other. Segments that follow each other along a pipe lie together,
 * so boxes round runs of them, round several such runs, round several of those and so on tell most pairs apart at once.
 */

/** Segments in the order of the pipe, from (ax, ay) to (bx, by), mm. */
type Sides = Pick<Segments, "ax" | "ay" | "bx" | "by">;

/** Segments that share a box on the lowest level. */
const RUN = 8;
/** Boxes that share one on the next level. */
const FAN = 8;

/** Boxes in levels: round every run, round every few of those, and so on up to a single one. */
interface BoxTree {
	/** Four numbers a box, minX, minY, maxX, maxY, the lowest level first. */
	readonly boxes: Float64Array;
	/** Where each level's boxes begin, counted in boxes, and where the last level's end. */
	readonly starts: readonly number[];
}

function boxTreeOf(segments: Sides): BoxTree {
	const starts = [0];
	let count = Math.ceil(segments.ax.length / RUN);
	let end = count;
	for (starts.push(end); count > 1; starts.push(end)) {
		count = Math.ceil(count / FAN);
		end += count;
	}
	const boxes = new Float64Array(4 * end);
	putBoxesOfRuns(boxes, segments);
	for (let level = 1; level + 1 < starts.length; level++)
		putBoxesOfGroups(boxes, starts[level - 1]!, starts[level]!, starts[level + 1]!);
	return { boxes, starts };
}

function putBoxesOfRuns(boxes: Float64Array, { ax, ay, bx, by }: Sides): void {
	for (let first = 0, at = 0; first < ax.length; first += RUN, at += 4) {
		let minX = Infinity;
		let minY = Infinity;
		let maxX = -Infinity;
		let maxY = -Infinity;
		const end = Math.min(ax.length, first + RUN);
		for (let i = first; i < end; i++) {
			minX = Math.min(minX, ax[i]!, bx[i]!);
			minY = Math.min(minY, ay[i]!, by[i]!);
			maxX = Math.max(maxX, ax[i]!, bx[i]!);
			maxY = Math.max(maxY, ay[i]!, by[i]!);
		}
		boxes[at] = minX;
		boxes[at + 1] = minY;
		boxes[at + 2] = maxX;
		boxes[at + 3] = maxY;
	}
}

/** The boxes round every few of those from `below` up to `start - 1`, put there up to `end - 1`. */
function putBoxesOfGroups(boxes: Float64Array, below: number, start: number, end: number): void {
	for (let i = start; i < end; i++) {
		const at = 4 * i;
		const first = below + FAN * (i - start);
		boxes.copyWithin(at, 4 * first, 4 * first + 4);
		for (let k = first + 1; k < Math.min(start, first + FAN); k++) {
			boxes[at] = Math.min(boxes[at]!, boxes[4 * k]!);
			boxes[at + 1] = Math.min(boxes[at + 1]!, boxes[4 * k + 1]!);
			boxes[at + 2] = Math.max(boxes[at + 2]!, boxes[4 * k + 2]!);
			boxes[at + 3] = Math.max(boxes[at + 3]!, boxes[4 * k + 3]!);
		}
	}
}

const boxesMeet = (boxes: Float64Array, i: number, j: number, reach: number): boolean =>
	boxes[4 * i]! - reach <= boxes[4 * j + 2]! &&
	boxes[4 * i + 2]! + reach >= boxes[4 * j]! &&
	boxes[4 * i + 1]! - reach <= boxes[4 * j + 3]! &&
	boxes[4 * i + 3]! + reach >= boxes[4 * j + 1]!;

/** Whether no two segments from the `first` up to the `last` concern who asks. */
export type Exempt = (first: number, last: number) => boolean;

/** What is asked of every two segments that come near each other. */
interface Question {
	readonly segments: Sides;
	readonly tree: BoxTree;
	/** mm */
	readonly reach: number;
	readonly exempt: Exempt;
	readonly holds: (later: number, earlier: number) => boolean;
}

/** Whether it holds for pairs of a segment of one run and one of the same run or of an earlier one. */
function holdsBetweenRuns({ segments, tree, reach, exempt, holds }: Question, run: number, other: number): boolean {
	const { ax, ay, bx, by } = segments;
	const { boxes } = tree;
	const end = Math.min(ax.length, (run + 1) * RUN);
	const otherEnd = Math.min(ax.length, (other + 1) * RUN);
	if (run - other <= 1 && exempt(other * RUN, end - 1)) return true;
	for (let i = run * RUN; i < end; i++) {
		const left = Math.min(ax[i]!, bx[i]!) - reach;
		const right = Math.max(ax[i]!, bx[i]!) + reach;
		const bottom = Math.min(ay[i]!, by[i]!) - reach;
		const top = Math.max(ay[i]!, by[i]!) + reach;
		if (left > boxes[4 * other + 2]! || right < boxes[4 * other]!) continue;
		if (bottom > boxes[4 * other + 3]! || top < boxes[4 * other + 1]!) continue;
		const last = run === other ? i : otherEnd;
		for (let j = other * RUN; j < last; j++) {
			const cx = ax[j]!;
			const dx = bx[j]!;
			if ((cx < left && dx < left) || (cx > right && dx > right)) continue;
			const cy = ay[j]!;
			const dy = by[j]!;
			if ((cy < bottom && dy < bottom) || (cy > top && dy > top)) continue;
			if (!holds(i, j)) return false;
		}
	}
	return true;
}

/** Boxes of the level below that one has a part in end before this. */
const endOf = ({ starts }: BoxTree, level: number, box: number): number =>
	Math.min(starts[level]! - starts[level - 1]!, FAN * (box + 1));

/** Whether it holds for pairs of a segment in one box of a level and one in an earlier box that it meets. */
function holdsBetween(question: Question, level: number, box: number, earlier: number): boolean {
	if (level === 0) return holdsBetweenRuns(question, box, earlier);
	const { tree, reach } = question;
	const below = tree.starts[level - 1]!;
	const end = endOf(tree, level, box);
	for (let k = FAN * box; k < end; k++)
		for (let m = FAN * earlier; m < FAN * (earlier + 1); m++)
			if (boxesMeet(tree.boxes, below + k, below + m, reach) && !holdsBetween(question, level - 1, k, m)) return false;
	return true;
}

/** Whether it holds for pairs of segments that are both in one box. */
function holdsWithin(question: Question, level: number, box: number): boolean {
	if (level === 0) return holdsBetweenRuns(question, box, box);
	const { tree, reach } = question;
	const below = tree.starts[level - 1]!;
	const end = endOf(tree, level, box);
	for (let k = FAN * box; k < end; k++) {
		if (!holdsWithin(question, level - 1, k)) return false;
		for (let m = FAN * box; m < k; m++)
			if (boxesMeet(tree.boxes, below + k, below + m, reach) && !holdsBetween(question, level - 1, k, m)) return false;
	}
	return true;
}

/**
 * Whether `holds` for every two segments whose boxes come within `reach` mm of each other, the later one given first.
 * Pairs come in no particular order, and no more of them once one does not hold. Stretches that are `exempt` as a whole
 * need not be looked through.
 */
export function everyNearPair(
	segments: Sides,
	reach: number,
	exempt: Exempt,
	holds: (later: number, earlier: number) => boolean,
): boolean {
	if (segments.ax.length === 0) return true;
	const tree = boxTreeOf(segments);
	return holdsWithin({ segments, tree, reach, exempt, holds }, tree.starts.length - 2, 0);
}
