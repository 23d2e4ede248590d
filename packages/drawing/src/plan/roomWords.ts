import type { Room } from "@oxturn/floor";
import { regionArea } from "../paper.ts";

export function roomName(room: Room): string {
	return room.name === "" ? room.id : room.name;
}

export function roomArea(room: Room): string {
	return `${(regionArea(room.region) / 1e6).toFixed(1)} m²`;
}
