import { select, type ZoomTransform, zoom } from "d3";

export interface PanZoom {
	/** Makes everything `factor` times as large, about the middle. */
	readonly scaleBy: (factor: number) => void;
	/** Moves the picture, px. */
	readonly panBy: (x: number, y: number) => void;
	/** Takes over a transform that was set from elsewhere. */
	readonly follow: (transform: ZoomTransform) => void;
	readonly stop: () => void;
}

export interface PanZoomOptions {
	readonly onChange: (transform: ZoomTransform) => void;
	/** Whether one finger or the main button moves the view here, or is wanted for something else. */
	readonly mayDrag: (event: Event) => boolean;
}

/** How far in and out the view goes, relative to the whole floor in the window. */
const EXTENT: [number, number] = [0.2, 40];

/** Lets wheel, drag and pinch move the view of `svg`. */
export function startPanZoom(svg: SVGSVGElement, { onChange, mayDrag }: PanZoomOptions): PanZoom {
	const current = (): ZoomTransform => (svg as SVGSVGElement & { __zoom: ZoomTransform }).__zoom;
	const behaviour = zoom<SVGSVGElement, unknown>()
		.scaleExtent(EXTENT)
		.filter((event: Event) => mayMove(event, current(), mayDrag))
		.on("zoom", (event: { transform: ZoomTransform }) => onChange(event.transform));
	// two quick clicks set two corners; they are no wish to come nearer
	const selection = select(svg).call(behaviour).on("dblclick.zoom", null);
	return {
		scaleBy: (factor) => behaviour.scaleBy(selection, factor),
		panBy: (x, y) => behaviour.translateBy(selection, x / current().k, y / current().k),
		follow: (transform) => {
			if (current() !== transform) selection.property("__zoom", transform);
		},
		stop: () => selection.on(".zoom", null),
	};
}

/** On a page that scrolls, one finger and a plain wheel scroll it until the plan has been made larger. */
function mayMove(event: Event, { k }: ZoomTransform, mayDrag: (event: Event) => boolean): boolean {
	const page = document.documentElement;
	const pageScrolls = page.scrollHeight > page.clientHeight + 1;
	if (event instanceof WheelEvent) return !pageScrolls || event.ctrlKey || k > 1;
	if ("touches" in event) {
		if ((event as TouchEvent).touches.length > 1) return true;
		return (!pageScrolls || k > 1) && mayDrag(event);
	}
	if (!(event instanceof MouseEvent)) return true;
	return event.button === 1 || (event.button === 0 && !event.ctrlKey && mayDrag(event));
}
