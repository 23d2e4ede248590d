import { type ZoomTransform, zoomIdentity } from "d3";
import type { Point } from "oxturn";
import type { Draft } from "../document/draft.ts";
import { isOutlined } from "../document/draft.ts";

/** An upright box in mm; y goes up. */
export interface Extent {
	readonly left: number;
	readonly bottom: number;
	readonly right: number;
	readonly top: number;
}

/** Floor round the rooms that is kept in view, mm: walls and the manifold's box. */
const AROUND = 120;
/** Kept free beyond that, px, for measures beside the walls. */
const MARGIN = 36;
/** A window whose size has not changed for so long has come to rest, ms. */
const REST = 250;
/** How near a part of the floor is brought, relative to the whole. */
const NEAREST = 12;
/** Shown of a floor on which nothing has been drawn yet, mm. */
const EMPTY: Extent = { left: 0, bottom: 0, right: 6000, top: 4500 };

/** What the outlines of a draft take up. */
export function extentOf(draft: Draft): Extent {
	const points = draft.features.filter(isOutlined).flatMap(({ geometry }) => geometry.coordinates[0] ?? []);
	return points.length === 0 ? EMPTY : extentOfPoints(points);
}

/** What some points take up. */
export function extentOfPoints(points: readonly Point[]): Extent {
	return points.reduce<Extent>(
		(box, [x, y]) => ({
			left: Math.min(box.left, x),
			bottom: Math.min(box.bottom, y),
			right: Math.max(box.right, x),
			top: Math.max(box.top, y),
		}),
		{ left: Infinity, bottom: Infinity, right: -Infinity, top: -Infinity },
	);
}

/**
 * How a floor is looked at: which part of it, and how large. The part stays the same while the floor is edited, so
 * that nothing moves under the pointer. Panes that share a view pan and zoom together.
 */
export class View {
	/** What is shown when nothing has been zoomed or moved. */
	frame = $state.raw<Extent>(EMPTY);
	/** Zoom and move on top of that. */
	transform = $state.raw<ZoomTransform>(zoomIdentity);
	width = $state(0);
	height = $state(0);
	/** Kept free at the lower edge, px. */
	foot = $state(0);

	/** The window that the frame was fitted into: a line more in the title block is no reason for the plan to move. */
	#fitted = $state.raw<{ readonly width: number; readonly height: number } | undefined>(undefined);

	#resting: ReturnType<typeof setTimeout> | undefined;

	#fit = $derived.by((): { readonly scale: number; readonly x: number; readonly y: number } => {
		const { left, right, bottom, top } = this.frame;
		const { width, height: whole } = this.#fitted ?? this;
		const height = Math.max(1, whole - this.foot);
		const [wide, high] = [Math.max(1, width - 2 * MARGIN), Math.max(1, height - 2 * MARGIN)];
		const scale = Math.min(wide / (right - left + 2 * AROUND), high / (top - bottom + 2 * AROUND));
		return { scale, x: width / 2 - (scale * (left + right)) / 2, y: height / 2 + (scale * (bottom + top)) / 2 };
	});

	isReady = $derived(this.width > 0 && this.height > 0);
	/** Screen px to one mm of floor. */
	scale = $derived(this.#fit.scale * this.transform.k);
	/** SVG transform of the floor; y of what is drawn in it goes down. */
	placed = $derived(
		`translate(${this.transform.applyX(this.#fit.x)} ${this.transform.applyY(this.#fit.y)}) scale(${this.scale})`,
	);

	/** A point of the window as mm on the floor. */
	toFloor([x, y]: Point): Point {
		const { x: left, y: top } = this.#fit;
		return [(x - this.transform.applyX(left)) / this.scale, -(y - this.transform.applyY(top)) / this.scale];
	}

	/** A point of the floor as px in the window. */
	toWindow = ([x, y]: Point): Point => {
		const { x: left, y: top } = this.#fit;
		return [this.transform.applyX(left) + x * this.scale, this.transform.applyY(top) - y * this.scale];
	};

	/** Shows the whole of a floor, from whatever was looked at. */
	showWhole(draft: Draft): void {
		this.frame = extentOf(draft);
		this.transform = zoomIdentity;
		this.fitWindow();
	}

	/** Brings a part of the floor near, as large as the window takes. */
	showPart({ left, right, bottom, top }: Extent): void {
		const { scale, x, y } = this.#fit;
		const [wide, high] = [Math.max(1, this.width - 2 * MARGIN), Math.max(1, this.height - this.foot - 2 * MARGIN)];
		const k = Math.min(NEAREST, wide / ((right - left) * scale), high / ((top - bottom) * scale));
		const centre = [x + (scale * (left + right)) / 2, y - (scale * (bottom + top)) / 2] as const;
		this.transform = zoomIdentity
			.translate(this.width / 2 - k * centre[0], (this.height - this.foot) / 2 - k * centre[1])
			.scale(k);
	}

	/** Fits what is shown into the window as it is now. */
	fitWindow(): void {
		this.#fitted = this.isReady ? { width: this.width, height: this.height } : undefined;
	}

	/** Follows the window's size until it has come to rest. */
	followWindow(): void {
		clearTimeout(this.#resting);
		this.#fitted = undefined;
		this.#resting = setTimeout(() => this.fitWindow(), REST);
	}
}
