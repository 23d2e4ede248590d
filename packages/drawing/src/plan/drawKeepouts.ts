import { regionData, regionToPaper } from "../paper.ts";
import { pen } from "../tokens.ts";
import { element, group, xmlId } from "../xml.ts";
import type { PlanContext } from "./planContext.ts";

export function drawKeepouts({ floor, view, theme, colours }: PlanContext): string {
	return group(
		{ class: "keepouts" },
		floor.keepouts.map((keepout) =>
			element("path", {
				id: xmlId("keepout", keepout.id),
				d: regionData(regionToPaper(view, keepout.region)),
				"fill-rule": "evenodd",
				fill: `url(#keepout-${theme})`,
				stroke: colours.muted,
				"stroke-width": pen.thin,
			}),
		),
	);
}
