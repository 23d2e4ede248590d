import type { Region, Ring } from "@oxturn/geometry";
import { type Field, serpentine } from "./serpentine.ts";

export interface FillFieldOptions {
	readonly floor: readonly Region[];
	readonly spacing: number;
	readonly minBendRadius: number;
	readonly pattern: "serpentine" | "spiral" | "auto";
	/** The room's outline, whose walls give the directions of the runs. */
	readonly walls: readonly Ring[];
	readonly most: number;
}

export interface Candidate extends Field {
	readonly pattern: "serpentine" | "spiral";
	readonly direction: number;
}

/** Distinct wall directions, the longest walls first, radians in [0, pi). */
export function wallDirections(walls: readonly Ring[], most: number): number[] {
	const found: { angle: number; length: number }[] = [];
	for (const ring of walls)
		for (let i = 0; i < ring.length; i++) {
			const a = ring[i]!;
			const b = ring[(i + 1) % ring.length]!;
			const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
			const angle = (Math.atan2(b[1] - a[1], b[0] - a[0]) + 2 * Math.PI) % Math.PI;
			const same = found.find((f) => {
				const apart = Math.abs(f.angle - angle);
				return Math.min(apart, Math.PI - apart) < 0.03;
			});
			if (same) same.length += length;
			else found.push({ angle, length });
		}
	found.sort((a, b) => b.length - a.length);
	const longest = found[0]?.angle ?? 0;
	const angles = found.slice(0, most).map((f) => f.angle);
	const square = (longest + Math.PI / 2) % Math.PI;
	if (!angles.some((a) => Math.min(Math.abs(a - square), Math.PI - Math.abs(a - square)) < 0.03)) angles.push(square);
	return angles;
}

/** Every way of filling a field that the pattern allows, unsorted. */
export function fillField(options: FillFieldOptions): Candidate[] {
	const candidates: Candidate[] = [];
	for (const direction of wallDirections(options.walls, options.most))
		for (const spine of ["combLeft", "combRight", "zigzagLeft", "zigzagRight"] as const) {
			const field = serpentine({ ...options, direction, spine });
			if (field) candidates.push({ ...field, pattern: "serpentine", direction });
		}
	return candidates;
}
