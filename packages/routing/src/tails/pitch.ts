import type { System } from "@oxturn/floor";

/** Centre to centre between tails, with a hair to spare, mm. */
export const tailPitch = (system: System): number => Math.max(system.tailSpacing, system.pipe.outerDiameter + 2) + 0.5;
