import { readLength, type UnitSystem } from "../units/lengths.ts";

/** Reads a typed width and depth, as `4000 x 3000`, `4 m × 3 m`, as mm; `undefined` when it is none. */
export function readSize(
	typed: string,
	units: UnitSystem,
): { readonly width: number; readonly depth: number } | undefined {
	const [width, depth, ...more] = typed.split(/[x×*;]/i).map((part) => readLength(part, units));
	if (width === undefined || depth === undefined || more.length > 0) return undefined;
	return width > 0 && depth > 0 ? { width, depth } : undefined;
}
