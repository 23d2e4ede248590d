import type { Point } from "oxturn";
import { distance, minus, plus, times } from "../document/plane.ts";
import { keepPicture, keptPicture } from "../keep/pictureStorage.ts";

/** A larger picture is not kept, characters of its `data:` URL: no scan of a plan that was drawn smaller comes near it. */
export const LARGEST_KEPT = 6_000_000;
/** The browser is asked to keep the picture this long after the last change, ms. */
const PAUSE = 300;

/** A picture of a plan under the drawing. */
export interface UnderlayPicture {
	/** `data:` URL: the page admits no other pictures. */
	readonly href: string;
	/** Size of the picture, its own pixels. */
	readonly width: number;
	readonly height: number;
	/** Its lower left corner on the floor, mm. */
	readonly origin: Point;
	/** mm to one of its pixels. */
	readonly scale: number;
}

/** The same picture so scaled that `from` and `to`, floor mm, lie `length` mm apart; `from` stays where it is. */
export function scaleBetween(picture: UnderlayPicture, from: Point, to: Point, length: number): UnderlayPicture {
	const factor = length / distance(from, to);
	return {
		...picture,
		scale: picture.scale * factor,
		origin: plus(from, times(minus(picture.origin, from), factor)),
	};
}

/** What became of keeping the picture; `waiting` until that is known. */
export type Keeping = "waiting" | "kept" | "too-large" | "refused";

/** The picture under the drawing. It is kept in this browser alone: neither the document nor a link carries it. */
export class Underlay {
	picture = $state.raw<UnderlayPicture | undefined>(undefined);
	/** 0.1 to 1. */
	opacity = $state(0.5);
	/** Two points whose true length is still to be given. */
	measured = $state.raw<{ readonly from: Point; readonly to: Point } | undefined>(undefined);

	keeping = $state<Keeping>("waiting");
	/** Until the picture of the last visit has been looked for, there is nothing to keep in its place. */
	#isReady = false;
	#timer: ReturnType<typeof setTimeout> | undefined;

	/** Brings back the picture that the browser kept, with its scale and its place. */
	async begin(): Promise<void> {
		const kept = readKept(await keptPicture());
		this.#isReady = true;
		// one that was chosen meanwhile is the newer one
		if (this.picture !== undefined) this.keepSoon();
		else if (kept !== undefined) {
			this.picture = kept.picture;
			this.opacity = kept.opacity;
		}
	}

	/** Asks the browser to keep the picture as it is now, or to forget it, soon. */
	keepSoon(): void {
		const { picture, opacity } = this;
		clearTimeout(this.#timer);
		if (!this.#isReady) return;
		const isTooLarge = picture !== undefined && picture.href.length > LARGEST_KEPT;
		this.keeping = isTooLarge ? "too-large" : "waiting";
		this.#timer = setTimeout(async () => {
			// an older picture must not come back in the place of one that is too large
			const isKept = await keepPicture(picture && !isTooLarge ? { ...picture, opacity } : undefined);
			if (this.picture === picture && !isTooLarge) this.keeping = isKept ? "kept" : "refused";
		}, PAUSE);
	}

	drop(): void {
		this.picture = undefined;
		this.measured = undefined;
	}

	/** Gives the measured points their true distance, mm. */
	setLength(length: number): void {
		if (!this.picture || !this.measured) return;
		this.picture = scaleBetween(this.picture, this.measured.from, this.measured.to, length);
		this.measured = undefined;
	}
}

const isNumber = (value: unknown): value is number => typeof value === "number" && Number.isFinite(value);

/** Reads what the browser kept, as if anyone could have written it. */
function readKept(kept: unknown): { readonly picture: UnderlayPicture; readonly opacity: number } | undefined {
	if (typeof kept !== "object" || kept === null) return undefined;
	const { href, width, height, origin, scale, opacity } = kept as Readonly<Record<string, unknown>>;
	if (typeof href !== "string" || !/^data:image\/(png|jpeg|webp);/.test(href)) return undefined;
	if (!isNumber(width) || !isNumber(height) || !isNumber(scale) || !isNumber(opacity)) return undefined;
	if (!(width > 0 && height > 0 && scale > 0)) return undefined;
	const [x, y]: readonly unknown[] = Array.isArray(origin) ? origin : [];
	if (!isNumber(x) || !isNumber(y)) return undefined;
	return { picture: { href, width, height, origin: [x, y], scale }, opacity: Math.min(1, Math.max(0.1, opacity)) };
}
