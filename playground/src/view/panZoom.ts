import { select, type ZoomTransform, zoom, zoomIdentity } from "d3";

export interface PanZoom {
	/** Makes everything `factor` times as large, about the middle. */
	readonly scaleBy: (factor: number) => void;
	/** Moves the picture, px. */
	readonly panBy: (x: number, y: number) => void;
	/** Back to the whole floor. */
	readonly reset: () => void;
	readonly stop: () => void;
}

/** How far in and out the view goes, relative to the whole floor in the window. */
const EXTENT: [number, number] = [0.5, 24];

/** Lets wheel, drag and pinch move the view of `svg`; `onChange` is told each new transform. */
export function startPanZoom(svg: SVGSVGElement, onChange: (transform: ZoomTransform) => void): PanZoom {
	let current = zoomIdentity;
	const behaviour = zoom<SVGSVGElement, unknown>()
		.scaleExtent(EXTENT)
		.filter((event: Event) => mayMove(event, current))
		.on("zoom", (event: { transform: ZoomTransform }) => {
			current = event.transform;
			onChange(current);
		});
	const selection = select(svg).call(behaviour);
	return {
		scaleBy: (factor) => behaviour.scaleBy(selection, factor),
		panBy: (x, y) => behaviour.translateBy(selection, x / current.k, y / current.k),
		reset: () => behaviour.transform(selection, zoomIdentity),
		stop: () => selection.on(".zoom", null),
	};
}

/** On a page that scrolls, one finger and a plain wheel scroll it until the plan has been made larger. */
function mayMove(event: Event, { k }: ZoomTransform): boolean {
	const page = document.documentElement;
	const pageScrolls = page.scrollHeight > page.clientHeight + 1;
	if (event instanceof WheelEvent) return !pageScrolls || event.ctrlKey || k > 1;
	if ("touches" in event) return !pageScrolls || k > 1 || (event as TouchEvent).touches.length > 1;
	return event instanceof MouseEvent ? event.button === 0 && !event.ctrlKey : true;
}
