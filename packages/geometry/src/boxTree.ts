/*
 * Finds the segments of pipes that come near to each other. Segments that follow each other along a pipe lie together,
 * so boxes round runs of them, round two such runs, round two of those and so on tell most pairs apart at once.
 */

/** Segments in the order of the pipe, from (ax, ay) to (bx, by), mm. */
export interface Segments {
	readonly ax: Float64Array;
	readonly ay: Float64Array;
	readonly bx: Float64Array;
	readonly by: Float64Array;
}

/** Boxes of one level, four numbers each: minX, minY, maxX, maxY. */
type Boxes = Float64Array;

/** Segments that share a box on the lowest level. */
const RUN = 8;

function boxesOfRuns({ ax, ay, bx, by }: Segments): Boxes {
	const count = Math.ceil(ax.length / RUN);
	const boxes = new Float64Array(4 * count);
	for (let run = 0; run < count; run++) {
		let minX = Infinity;
		let minY = Infinity;
		let maxX = -Infinity;
		let maxY = -Infinity;
		const end = Math.min(ax.length, (run + 1) * RUN);
		for (let i = run * RUN; i < end; i++) {
			minX = Math.min(minX, ax[i]!, bx[i]!);
			minY = Math.min(minY, ay[i]!, by[i]!);
			maxX = Math.max(maxX, ax[i]!, bx[i]!);
			maxY = Math.max(maxY, ay[i]!, by[i]!);
		}
		boxes[4 * run] = minX;
		boxes[4 * run + 1] = minY;
		boxes[4 * run + 2] = maxX;
		boxes[4 * run + 3] = maxY;
	}
	return boxes;
}

/** The boxes round every two of some; one that is left over stands for itself. */
function boxesOfPairs(boxes: Boxes): Boxes {
	const count = boxes.length / 4;
	const pairs = new Float64Array(4 * Math.ceil(count / 2));
	for (let i = 0; 4 * i < pairs.length; i++) {
		const a = 8 * i;
		const b = 2 * i + 1 < count ? a + 4 : a;
		pairs[4 * i] = Math.min(boxes[a]!, boxes[b]!);
		pairs[4 * i + 1] = Math.min(boxes[a + 1]!, boxes[b + 1]!);
		pairs[4 * i + 2] = Math.max(boxes[a + 2]!, boxes[b + 2]!);
		pairs[4 * i + 3] = Math.max(boxes[a + 3]!, boxes[b + 3]!);
	}
	return pairs;
}

/** Levels of boxes, from those of the runs up to a single one. */
function levelsOf(segments: Segments): Boxes[] {
	const levels = [boxesOfRuns(segments)];
	for (let top = levels[0]!; top.length > 4; levels.push(top)) top = boxesOfPairs(top);
	return levels;
}

const boxesMeet = (boxes: Boxes, i: number, j: number, reach: number): boolean =>
	boxes[4 * i]! - reach <= boxes[4 * j + 2]! &&
	boxes[4 * i + 2]! + reach >= boxes[4 * j]! &&
	boxes[4 * i + 1]! - reach <= boxes[4 * j + 3]! &&
	boxes[4 * i + 3]! + reach >= boxes[4 * j + 1]!;

/**
 * Whether `holds` for every two segments whose boxes come within `reach` mm of each other, the later one given first.
 * Pairs come in no particular order, and no more of them once one does not hold.
 */
export function everyNearPair(
	segments: Segments,
	reach: number,
	holds: (later: number, earlier: number) => boolean,
): boolean {
	const { ax, ay, bx, by } = segments;
	const count = ax.length;
	const levels = levelsOf(segments);
	const runs = levels[0]!;

	/** Pairs of a segment of one run and one of the same run or of an earlier one. */
	const betweenRuns = (run: number, other: number): boolean => {
		const end = Math.min(count, (run + 1) * RUN);
		const otherEnd = Math.min(count, (other + 1) * RUN);
		for (let i = run * RUN; i < end; i++) {
			const left = Math.min(ax[i]!, bx[i]!) - reach;
			const right = Math.max(ax[i]!, bx[i]!) + reach;
			const bottom = Math.min(ay[i]!, by[i]!) - reach;
			const top = Math.max(ay[i]!, by[i]!) + reach;
			if (left > runs[4 * other + 2]! || right < runs[4 * other]!) continue;
			if (bottom > runs[4 * other + 3]! || top < runs[4 * other + 1]!) continue;
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
	};

	/** Pairs of a segment in one box of a level and one in an earlier box of it. */
	const between = (level: number, box: number, earlier: number): boolean => {
		const boxes = levels[level]!;
		if (!boxesMeet(boxes, box, earlier, reach)) return true;
		if (level === 0) return betweenRuns(box, earlier);
		const below = levels[level - 1]!.length / 4;
		for (let k = 2 * box; k < Math.min(below, 2 * box + 2); k++)
			if (!between(level - 1, k, 2 * earlier) || !between(level - 1, k, 2 * earlier + 1)) return false;
		return true;
	};

	/** Pairs of segments that are both in one box. */
	const within = (level: number, box: number): boolean => {
		if (level === 0) return betweenRuns(box, box);
		const [first, second] = [2 * box, 2 * box + 1];
		if (!within(level - 1, first)) return false;
		if (4 * second >= levels[level - 1]!.length) return true;
		return within(level - 1, second) && between(level - 1, second, first);
	};

	return count === 0 || within(levels.length - 1, 0);
}
