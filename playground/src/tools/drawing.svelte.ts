import type { Point } from "oxturn";
import type { Draft } from "../document/draft.ts";
import { plus, samePoint, wholeMm } from "../document/plane.ts";
import { twiceArea } from "../document/rings.ts";
import { nearestDoorway } from "../edit/doorways.ts";
import { nearestWallPlace } from "../edit/manifolds.ts";
import { atLength, GRID, type Snap, snap } from "../snap/snap.ts";
import type { Playground } from "../store/playground.svelte.ts";
import { preferences } from "../store/preferences.svelte.ts";
import { readLength } from "../units/lengths.ts";
import { type Outcome, outlined, setIntoWall } from "./outcome.ts";
import { readSize } from "./readSize.ts";
import { rectangle } from "./rectangle.ts";
import { squareLines } from "./squareLines.ts";
import { drawsOutline, type OutlineShape, setsIntoWall, type Tool } from "./tool.ts";

/** An outline with less floor than this is a slip, mm2: a square of 5 cm. */
const LEAST_AREA = 2500;

/** What is being drawn: the same for a pointer, for keys and for typed lengths. */
export class Drawing {
	tool = $state<Tool>("select");
	shape = $state<OutlineShape>("rectangle");
	/** Corners set so far. */
	points = $state.raw<readonly Point[]>([]);
	/** Where the next one would go. */
	cursor = $state.raw<Snap | undefined>(undefined);
	/** Length or size as typed so far. */
	typed = $state("");
	problem = $state("");
	/** Told with the two points of the `scale` tool. */
	onScale: ((from: Point, to: Point) => void) | undefined;

	#playground: Playground;

	constructor(playground: Playground) {
		this.#playground = playground;
	}

	/** What would come of a click: the pending outline with the cursor, the doorway, or the place of the manifold. */
	ghost = $derived.by((): readonly Point[] => {
		const at = this.cursor?.at;
		if (!at) return this.points;
		if (this.tool === "doorway") return nearestDoorway(this.#draft, at)?.corners ?? [];
		if (this.tool === "manifold") {
			const place = nearestWallPlace(this.#draft, at);
			return place ? [place.at] : [];
		}
		const [first] = this.points;
		if (first && drawsOutline(this.tool) && this.shape === "rectangle") return rectangle(first, at);
		return [...this.points, at];
	});

	get isDrawing(): boolean {
		return this.tool !== "select";
	}

	/** Whether a typed length or size makes sense now. */
	get takesTyping(): boolean {
		return drawsOutline(this.tool) && this.points.length > 0;
	}

	get wantsSize(): boolean {
		return drawsOutline(this.tool) && this.shape === "rectangle";
	}

	get #draft(): Draft {
		return this.#playground.draft;
	}

	take(tool: Tool): void {
		this.tool = tool;
		this.#forget();
		if (tool !== "select") this.#playground.select(undefined);
	}

	takeShape(shape: OutlineShape): void {
		this.shape = shape;
		this.#forget();
	}

	/** Brings the cursor near to `at`; `reach` mm is how far it may be caught from. */
	pointAt(at: Point, reach: number): void {
		const lines = this.wantsSize ? [] : squareLines(this.points);
		this.cursor = snap(this.#draft, at, { reach, grid: GRID, squareTo: this.#squareTo(), lines });
	}

	/** Puts the cursor exactly at `at`. */
	putCursor(at: Point): void {
		this.cursor = { at: wholeMm(at), kind: "free", guides: [] };
		const [x, y] = this.cursor.at;
		this.#playground.announce(preferences.text.drawing.cursor(preferences.length(x), preferences.length(y)));
	}

	moveCursor(by: Point, start: Point): void {
		this.putCursor(plus(this.cursor?.at ?? start, by));
	}

	/** Sets what the tool sets, at the cursor, or as far along as was typed. */
	place(): void {
		this.problem = "";
		if (this.typed.trim() !== "") this.#placeTyped();
		else if (this.cursor) this.#placeAt(this.cursor.at);
	}

	/** Ends an outline that has been drawn point by point. */
	close(): void {
		if (!drawsOutline(this.tool)) return;
		if (this.points.length < 3) this.problem = preferences.text.drawing.tooFew;
		else this.#finish(this.points);
	}

	dropPoint(): void {
		this.points = this.points.slice(0, -1);
		this.problem = "";
	}

	/** Gives up what is being drawn, or the tool when nothing is. */
	cancel(): void {
		if (this.points.length > 0 || this.typed !== "") this.#forget();
		else this.take("select");
	}

	#forget(): void {
		this.points = [];
		this.typed = "";
		this.problem = "";
	}

	#squareTo(): readonly Point[] {
		const [first, last] = [this.points[0], this.points.at(-1)];
		if (!first || !last || this.wantsSize) return [];
		return first === last ? [first] : [last, first];
	}

	#placeTyped(): void {
		const last = this.points.at(-1);
		const towards = this.cursor?.at ?? last;
		if (!last || !towards) return;
		if (this.wantsSize) this.#placeTypedSize(last, towards);
		else this.#placeTypedLength(last, towards);
	}

	#placeTypedSize(last: Point, towards: Point): void {
		const size = readSize(this.typed, preferences.units);
		if (!size) {
			this.problem = preferences.text.drawing.badSize;
			return;
		}
		const right = towards[0] < last[0] ? -1 : 1;
		const up = towards[1] < last[1] ? -1 : 1;
		this.typed = "";
		this.#placeAt(wholeMm([last[0] + right * size.width, last[1] + up * size.depth]));
	}

	#placeTypedLength(last: Point, towards: Point): void {
		const length = readLength(this.typed, preferences.units);
		if (length === undefined || length <= 0) {
			this.problem = preferences.text.drawing.badLength;
			return;
		}
		this.typed = "";
		const at = atLength(last, towards, length);
		this.cursor = { at, kind: "free", guides: [] };
		this.#placeAt(at);
	}

	#placeAt(at: Point): void {
		if (setsIntoWall(this.tool)) this.#take(setIntoWall(this.tool, this.#draft, at, preferences.text.drawing));
		else if (this.tool === "scale") this.#placeScale(at);
		else if (this.wantsSize) this.#placeRectangle(at);
		else this.#placeCorner(at);
	}

	#placeScale(at: Point): void {
		const [from] = this.points;
		if (!from) {
			this.points = [at];
			return;
		}
		if (samePoint(from, at)) return;
		this.onScale?.(from, at);
		this.take("select");
	}

	#placeRectangle(at: Point): void {
		const [from] = this.points;
		if (from) this.#finish(rectangle(from, at));
		else this.#add(at);
	}

	#placeCorner(at: Point): void {
		const [first, last] = [this.points[0], this.points.at(-1)];
		const ends = first && this.points.length > 1 && (samePoint(first, at) || (last && samePoint(last, at)));
		if (ends) this.close();
		else this.#add(at);
	}

	#add(at: Point): void {
		this.points = [...this.points, at];
		this.#playground.announce(
			preferences.text.drawing.pointSet(this.points.length, preferences.length(at[0]), preferences.length(at[1])),
		);
	}

	#finish(corners: readonly Point[]): void {
		if (!drawsOutline(this.tool)) return;
		if (Math.abs(twiceArea(corners)) < 2 * LEAST_AREA) {
			this.problem = preferences.text.drawing.noArea;
			if (this.wantsSize) this.points = this.points.slice(0, 1);
			return;
		}
		const outcome = outlined(this.tool, this.#draft, corners, preferences.text.drawing);
		this.#take(outcome);
		if (!outcome.made) this.points = [];
	}

	#take(outcome: Outcome): void {
		if (!outcome.made) {
			this.problem = outcome.problem;
			return;
		}
		this.#forget();
		this.#playground.change(outcome.made.draft, outcome.words);
		this.#playground.select({ id: outcome.made.id });
	}
}
