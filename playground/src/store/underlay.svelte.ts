import type { Point } from "oxturn";
import { distance, minus, plus, times } from "../document/plane.ts";

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

/** The picture under the drawing. It belongs to this visit alone: neither the document nor a link carries it. */
export class Underlay {
	picture = $state.raw<UnderlayPicture | undefined>(undefined);
	/** 0.1 to 1. */
	opacity = $state(0.5);
	/** Two points whose true length is still to be given. */
	measured = $state.raw<{ readonly from: Point; readonly to: Point } | undefined>(undefined);

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
