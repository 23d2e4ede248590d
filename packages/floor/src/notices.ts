import type { Notice, NoticeDetails } from "./types.ts";

/** Code of every notice that reading a floor can give, with what it means. */
export const floorNoticeCodes = {
	OUTLINE_CLEANED: "a spike without width was taken off an outline",
	OUTLINE_SIMPLIFIED: "an outline with very many corners was drawn with fewer",
	KEEPOUT_OUTSIDE: "a keep-out lies where no pipe would go anyway",
} as const;

export type FloorNoticeCode = keyof typeof floorNoticeCodes;

function notice(code: FloorNoticeCode, subject: string, message: string, details?: NoticeDetails): Notice {
	return details === undefined ? { code, message, subject } : { code, message, subject, details };
}

const millimetres = (value: number): string => `${Math.round(value * 10) / 10} mm`;

/** What messages call a ring of an outline: 0 is the outer one, the others are its holes. */
export function ringName(ring: number): string {
	return ring === 0 ? "outer ring" : `hole ${ring}`;
}

/** Builders of the notices: one for each code, so that the wording lives in one place. Lengths are mm. */
export const floorNotices = {
	outlineCleaned: (subject: string, ring: number, spikes: number, longest: number): Notice =>
		notice(
			"OUTLINE_CLEANED",
			subject,
			`The ${ringName(ring)} had ${spikes === 1 ? "a spike" : `${spikes} spikes`} without width, up to ${millimetres(longest)} long; the area stays the same without ${spikes === 1 ? "it" : "them"}.`,
			{ ring, spikes, longest },
		),
	outlineSimplified: (subject: string, ring: number, before: number, after: number, tolerance: number): Notice =>
		notice(
			"OUTLINE_SIMPLIFIED",
			subject,
			`The ${ringName(ring)} had ${before} corners and is drawn with ${after}, nowhere farther than ${millimetres(tolerance)} from where it was.`,
			{ ring, before, after, tolerance },
		),
	keepoutOutside: (subject: string): Notice =>
		notice(
			"KEEPOUT_OUTSIDE",
			subject,
			"This keep-out touches no room and no doorway, so it changes nothing. Move it if it belongs to a room.",
		),
};
