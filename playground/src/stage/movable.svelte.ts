import type { View } from "../store/view.svelte.ts";
import { type PanZoom, startPanZoom } from "./panZoom.ts";

/** A picture that can be moved and made larger. */
export interface Movable {
	/** To be attached to the picture. */
	readonly listenTo: (svg: SVGSVGElement) => () => void;
	/** Moves the picture, px. */
	readonly panBy: (x: number, y: number) => void;
	/** Makes everything `factor` times as large, about the middle. */
	readonly scaleBy: (factor: number) => void;
}

/**
 * Ties a view to what wheel, drag and pinch do to a picture. To be called while a component is set up; `mayDrag` as in
 * `PanZoomOptions`.
 */
export function movable(viewOf: () => View, mayDrag: (event: Event) => boolean): Movable {
	let panZoom: PanZoom | undefined;

	$effect(() => {
		panZoom?.follow(viewOf().transform);
	});

	return {
		listenTo: (svg) => {
			panZoom = startPanZoom(svg, {
				onChange: (transform) => {
					viewOf().transform = transform;
				},
				mayDrag,
			});
			return panZoom.stop;
		},
		panBy: (x, y) => panZoom?.panBy(x, y),
		scaleBy: (factor) => panZoom?.scaleBy(factor),
	};
}
