import type { Channel } from "@oxturn/floor";
import { pathData, toPaper } from "../paper.ts";
import { element, group, xmlId } from "../xml.ts";
import type { PlanContext } from "./planContext.ts";

/** Enough to see the band, little enough not to hide the pipes' dashes. */
export const CHANNEL_OPACITY = "0.3";

/** mm on paper: a band thinner than this would not show under its pipes. */
const THINNEST = 0.6;

/** A tinted band under the pipes, as wide as the floor that they take: half of their pitch on either side of them. */
export function drawChannels(channels: readonly Channel[], { floor, view, colours }: PlanContext): string {
	return group(
		{ class: "channels" },
		channels.map((channel) =>
			element(
				"path",
				{
					id: xmlId("channel", channel.id),
					d: pathData(channel.path.map((p) => toPaper(view, p))),
					fill: "none",
					stroke: colours.channel,
					"stroke-opacity": CHANNEL_OPACITY,
					"stroke-width": Math.max(THINNEST, (channel.width + floor.system.tailSpacing) / view.scale),
					"stroke-linejoin": "round",
				},
				// still says how many pipes there are where the sheet has no room for the label
				element("title", {}, `${Math.round(channel.pipes)} pipes, ${Math.round(channel.width)} mm wide`),
			),
		),
	);
}
