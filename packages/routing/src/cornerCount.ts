import { type Region, ringsOf } from "@oxturn/geometry";

/** Corners of all rings of a floor. */
export const cornerCount = (floor: readonly Region[]): number =>
	floor.flatMap(ringsOf).reduce((sum, ring) => sum + ring.length, 0);
