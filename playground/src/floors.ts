import bathroom from "../../docs/examples/rooms/bathroom.json";
import bootRoom from "../../docs/examples/rooms/boot-room.json";
import gardenBedroom from "../../docs/examples/rooms/garden-bedroom.json";
import hall from "../../docs/examples/rooms/hall.json";
import kitchen from "../../docs/examples/rooms/kitchen.json";
import lockRoom from "../../docs/examples/rooms/lock-room.json";
import riverBedroom from "../../docs/examples/rooms/river-bedroom.json";
import tollOffice from "../../docs/examples/rooms/toll-office.json";
import { type FloorSource, gallery } from "./gallery.ts";

/** Floors under one heading of the choice. */
export interface FloorGroup {
	readonly label: string;
	readonly choices: readonly { readonly label: string; readonly floor: FloorSource }[];
}

const roomOf = (floor: FloorSource): FloorSource["features"][number] | undefined =>
	floor.features.find(({ properties }) => properties.kind === "room");

const houseRooms = [kitchen, lockRoom, hall, gardenBedroom, riverBedroom, tollOffice, bathroom, bootRoom];

export const floorGroups: readonly FloorGroup[] = [
	{
		label: "The lockkeeper's house, room by room",
		choices: houseRooms.map((floor: FloorSource) => ({ label: roomOf(floor)?.properties.name ?? floor.name, floor })),
	},
	{ label: "Odd shapes", choices: gallery.map((floor) => ({ label: floor.name, floor })) },
];

/** What the page opens with. */
export const firstFloor: FloorSource = kitchen;

/** The spacing that a floor asks for, mm: its first room's own, else the floor's. */
export function spacingOf(floor: FloorSource): number {
	return roomOf(floor)?.properties.spacing ?? floor.system.spacing;
}

/** The same floor with every room at `spacing` mm. */
export function withSpacing(floor: FloorSource, spacing: number): FloorSource {
	return {
		...floor,
		system: { ...floor.system, spacing },
		features: floor.features.map((feature) =>
			feature.properties.kind === "room" ? { ...feature, properties: { ...feature.properties, spacing } } : feature,
		),
	};
}
