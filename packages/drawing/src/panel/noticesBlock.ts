import type { Notice } from "@oxturn/floor";
import { shorten, textAt, textWidth, wrapText } from "../text.ts";
import { letter } from "../tokens.ts";
import { group } from "../xml.ts";
import { type Block, HEADING, heading, LINE, type PanelContext, type Stacked, stack } from "./block.ts";

/** A notice broken into lines. */
interface NoticeEntry {
	readonly code: string;
	readonly subject: string;
	readonly lines: readonly string[];
	/** mm on paper */
	readonly height: number;
}

/** What the layout falls short of; nothing for one that does not. */
export function noticesBlock(context: PanelContext): Block | undefined {
	const { layout, width } = context;
	if (layout.notices.length === 0) return undefined;
	const entries = layout.notices.map((notice) => noticeEntry(notice, width));
	return {
		height: HEADING + entries.reduce((sum, { height }) => sum + height, 0.5),
		draw: (x, y) =>
			group({ class: "notices" }, [
				heading("Notices", x, y, context),
				...stack(entries, y + HEADING + 0.5).stacked.flatMap((entry) => drawEntry(entry, x, context)),
			]),
	};
}

function noticeEntry({ code, subject, message }: Notice, width: number): NoticeEntry {
	const shown = shorten(code, width * 0.6, letter.small, true);
	const left = width - textWidth(shown, letter.small, true) - 3;
	const lines = wrapText(message, width, letter.body);
	return {
		code: shown,
		subject: shorten(subject, left, letter.small),
		lines,
		height: LINE * (1 + lines.length) + 1,
	};
}

function drawEntry({ item, top }: Stacked<NoticeEntry>, x: number, { colours }: PanelContext): readonly string[] {
	const { code, subject, lines } = item;
	const subjectX = x + textWidth(code, letter.small, true) + 2;
	return [
		textAt(x, top + LINE / 2, code, { size: letter.small, fill: colours.caution, bold: true }),
		textAt(subjectX, top + LINE / 2, subject, { size: letter.small, fill: colours.muted }),
		...lines.map((line, i) => textAt(x, top + LINE * (i + 1.5), line, { size: letter.body, fill: colours.ink })),
	];
}
