import type { LoopFeature } from "oxturn";
import { featureOf, isOutlined } from "../document/draft.ts";
import { extentOfPoints } from "../store/view.svelte.ts";
import type { Workbench } from "../store/workbench.svelte.ts";
import { lengthOfLoop } from "./alongPipe.ts";
import { describeStation } from "./describeStation.ts";

/** The loop that was chosen to be followed, as long as the plan has it. */
export function chosenLoop({ look, playground }: Workbench): LoopFeature | undefined {
	return playground.routed?.layout.features.find(({ id }) => id === look.chosen?.loop);
}

/** Follows a loop to `station` mm from its flow port, and says where that is. */
export function followTo(workbench: Workbench, loop: LoopFeature, station: number): void {
	const { look, playground } = workbench;
	const within = Math.min(Math.max(0, station), lengthOfLoop(loop));
	look.touched = undefined;
	look.chosen = { loop: loop.id, station: within };
	playground.announce(describeStation(playground.draft, loop, within));
}

/** Follows the next loop, or the one before it, from its flow port. */
export function followNext(workbench: Workbench, by: 1 | -1): void {
	const loops = workbench.playground.routed?.layout.features ?? [];
	const chosen = chosenLoop(workbench);
	const at = chosen ? loops.indexOf(chosen) + by : by > 0 ? 0 : -1;
	const next = loops.at(at % Math.max(1, loops.length));
	if (next) followTo(workbench, next, 0);
}

/** Goes on along the loop that is followed, mm. */
export function walkAlong(workbench: Workbench, by: number): void {
	const loop = chosenLoop(workbench);
	if (loop) followTo(workbench, loop, (workbench.look.chosen?.station ?? 0) + by);
}

/** Floor kept in view round what is shown, mm. */
const AROUND = 400;
/** At least this much of the floor is shown, mm: a manifold alone is a point. */
const LEAST = 2400;

/** Shows where on the plan something is, by the id of a feature, a loop or a bundle. */
export function showSubject(workbench: Workbench, subject: string): void {
	const { playground, look, view } = workbench;
	const feature = featureOf(playground.draft, subject);
	const loop = playground.routed?.layout.features.find(({ id }) => id === subject);
	const channel = playground.routed?.layout.channels.find(({ id }) => id === subject);
	const points = feature
		? isOutlined(feature)
			? feature.geometry.coordinates.flat()
			: [feature.geometry.coordinates]
		: (loop?.geometry.coordinates ?? channel?.path);
	if (!points) return;
	if (feature) playground.select({ id: feature.id });
	if (loop) look.chosen = { loop: loop.id, station: 0 };
	const { left, right, bottom, top } = extentOfPoints(points);
	const [across, up] = [right - left, top - bottom].map((size) => Math.max(AROUND, (LEAST - size) / 2));
	view.showPart({
		left: left - (across ?? AROUND),
		right: right + (across ?? AROUND),
		bottom: bottom - (up ?? AROUND),
		top: top + (up ?? AROUND),
	});
	// on a narrow page the plan stands above what there is to read
	document.querySelector(".plan")?.scrollIntoView({ block: "nearest" });
}
