import type { Point } from "oxturn";
import type { Workbench } from "../store/workbench.svelte.ts";
import { nearestStation } from "./alongPipe.ts";

/** A pointer reaches a pipe from this far, px. */
const REACH = 8;

/**
 * Follows the pipe under a resting mouse or pen. Between two pipes of a field the nearer one is meant, so that a loop
 * does not flicker while the pointer crosses it; a drag and a tool in hand are about something else.
 */
export function touchPipe({ look, playground, drawing, view }: Workbench, event: PointerEvent, at: Point): void {
	const { routed } = playground;
	const isElsewhere = event.buttons !== 0 || drawing.isDrawing || event.pointerType === "touch";
	if (isElsewhere || !routed || !look.isShown("pipes")) {
		look.touched = undefined;
		return;
	}
	const { features } = routed.layout;
	const spacing = Math.max(0, ...features.map(({ properties }) => properties.spacing));
	look.touched = nearestStation(features, view.toFloor(at), Math.max(REACH / view.scale, 0.6 * spacing));
}

/** A click on a pipe, by finger too, goes on following it there. A click beside all pipes ends that. */
export function choosePipe({ look, playground, drawing, view }: Workbench, at: Point): void {
	const { routed } = playground;
	if (drawing.isDrawing || !routed || !look.isShown("pipes")) return;
	look.chosen = nearestStation(routed.layout.features, view.toFloor(at), REACH / view.scale);
}
