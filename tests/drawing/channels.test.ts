import { channelSchedule, formatChannels } from "@oxturn/drawing";
import type { Channel, Floor, Layout } from "@oxturn/floor";
import { expect, test } from "vitest";
import { smallFloor, smallLayout } from "./samples.ts";

const path = smallLayout.channels[0]!.path;
const channels: readonly Channel[] = [
	{ id: "c1", room: "workshop", doorway: "door", pipes: 4, width: 151.5, path },
	{ id: "c2", room: "drying", doorway: "door", pipes: 2, width: 50.5, path },
	{ id: "c3", room: "workshop", pipes: 2, width: 50.5, path },
];
const layout: Layout = { ...smallLayout, channels };

test("a row names the room that the tails cross and the one that they go on to", () => {
	expect(channelSchedule({ floor: smallFloor, layout }).map(({ room, to }) => [room, to])).toEqual([
		["Workshop", "Drying room"],
		["Drying room", "Workshop"],
		["Workshop", ""],
	]);
});

test("rooms without a name and what the floor does not know show their ids", () => {
	const floor: Floor = { ...smallFloor, rooms: smallFloor.rooms.map((room) => ({ ...room, name: "" })) };
	const strange: readonly Channel[] = [
		{ id: "c1", room: "workshop", doorway: "door", pipes: 2, width: 50, path },
		{ id: "c2", room: "attic", doorway: "hatch", pipes: 2, width: 50, path },
	];
	const rows = channelSchedule({ floor, layout: { ...layout, channels: strange } });
	expect(rows).toMatchObject([
		{ room: "workshop", doorway: "door", to: "drying" },
		{ room: "attic", doorway: "hatch", to: "" },
	]);
});

test("the table for terminals lines up, figures to the right", () => {
	expect(formatChannels(channelSchedule({ floor: smallFloor, layout }))).toBe(
		`Room         To           Through         Pipes   Width
-----------  -----------  --------------  -----  ------
Workshop     Drying room  door                4  152 mm
Drying room  Workshop     door                2   51 mm
Workshop                  along the wall      2   51 mm
`,
	);
});

test("without channels there is no table", () => {
	expect(formatChannels([])).toBe("");
});
