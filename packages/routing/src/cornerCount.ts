import { type Region, ringsOf } from "@oxturn/geometry";
import { sum } from "./sum.ts";

/** Corners of all rings of a floor. */
export const cornerCount = (floor: readonly Region[]): number => sum(floor.flatMap(ringsOf).map((ring) => ring.length));
