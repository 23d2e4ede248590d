/** The spacings that this page offers, mm. The library takes more. */
export const spacingLimits = { least: 75, most: 400 } as const;

export type SpacingReading = { readonly spacing: number } | { readonly problem: string };

/** Reads what was typed as a spacing in mm; what cannot be used comes back as a sentence to show beside the field. */
export function readSpacing(typed: string): SpacingReading {
	const { least, most } = spacingLimits;
	const range = `from ${least} to ${most} mm`;
	const spacing = Number(typed);
	if (typed.trim() === "" || !Number.isFinite(spacing)) return { problem: `Give a number of millimetres ${range}.` };
	if (spacing < least) return { problem: `${spacing} mm is too close. Give a spacing ${range}.` };
	if (spacing > most) return { problem: `${spacing} mm is too far apart. Give a spacing ${range}.` };
	return { spacing };
}
