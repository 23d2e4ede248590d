import type { Problem } from "oxturn";
import type { Draft } from "../document/draft.ts";
import { isDraft } from "../document/isDraft.ts";
import { firstFloor } from "../gallery/dwelling.ts";
import { keepText, keptText } from "../keep/browserStorage.ts";
import type { PolygonUnit } from "../keep/geoJsonRooms.ts";
import { LONGEST_LINK, linkFragment, readFragment } from "../keep/link.ts";
import { readText } from "../keep/readTexts.ts";
import type { Playground } from "./playground.svelte.ts";
import { preferences } from "./preferences.svelte.ts";

const KEY = "oxturn.floor";
/** The browser is asked to keep the floor this long after the last change, ms. */
const PAUSE = 300;
/** Larger files are no floors, bytes; links have a limit of their own. */
const LARGEST_FILE = 8_000_000;

/** Brings floors in from outside, and keeps the one on screen. Whatever comes in is refused whole or taken whole. */
export class Keeper {
	#playground: Playground;
	#told = $state.raw({ message: "", revision: 0 });

	/** Whether the browser keeps the drawing; it may be forbidden to. */
	isKept = $state(true);
	/** What became of the last link or file, until the drawing is changed. */
	message = $derived.by(() => (this.#told.revision === this.#playground.revision ? this.#told.message : ""));
	/** What was wrong with it, in the reader's words. */
	problems = $state.raw<readonly Problem[]>([]);
	/** A file of plain polygons that waits to be told its unit. */
	waiting = $state.raw<string | undefined>(undefined);

	#timer: ReturnType<typeof setTimeout> | undefined;

	constructor(playground: Playground) {
		this.#playground = playground;
	}

	/** Starts the page: with the floor in its link, else the one that the browser kept, else the first of the gallery. */
	async begin(): Promise<void> {
		const kept = keptText(KEY);
		const roomName = preferences.text.open.roomName;
		const restored = kept === undefined ? undefined : await readText({ text: kept, roomName }).catch(() => undefined);
		const read = restored && "draft" in restored ? restored.draft : undefined;
		// what the reader refuses may be a floor half drawn, and that is not to be lost either
		this.#playground.begin(read ?? (kept === undefined ? undefined : unfinished(kept)) ?? firstFloor);
		await this.followLink();
	}

	/** Opens the floor in the page's address, if there is one, and takes it out of there: it would undo later changes. */
	async followLink(): Promise<void> {
		const { keep } = preferences.text;
		const reading = await readFragment(location.hash);
		if (reading.kind === "none") return;
		history.replaceState(undefined, "", location.pathname + location.search);
		if (reading.kind === "too-large") this.#tell(keep.linkTooLarge);
		else if (reading.kind === "refused") this.#tell(keep.linkRefused);
		else await this.#open(reading.text, undefined, keep.linkRefused, keep.linkOpened);
	}

	async openFile(file: File): Promise<void> {
		const { open } = preferences.text;
		if (file.size > LARGEST_FILE) {
			this.#tell(open.tooLarge(`${LARGEST_FILE / 1e6} MB`));
			return;
		}
		const text = await file.text().catch(() => undefined);
		if (text === undefined) this.#tell(open.unreadable);
		else await this.#open(text, undefined, open.refused, open.opened);
	}

	/** Takes the file that waits, in the unit that was chosen. */
	async useUnit(unit: PolygonUnit): Promise<void> {
		const { open } = preferences.text;
		if (this.waiting !== undefined) await this.#open(this.waiting, unit, open.refused, open.opened);
	}

	/** Leaves the file that waits where it is. */
	dropWaiting(): void {
		this.waiting = undefined;
	}

	/** A link to the floor as it is. */
	async makeLink(): Promise<{ readonly url: string; readonly isLong: boolean }> {
		const fragment = await linkFragment(this.#playground.settledDraft);
		const url = `${location.origin}${location.pathname}${fragment}`;
		return { url, isLong: fragment.length > Math.min(LONGEST_LINK, 8000) };
	}

	/** Asks the browser to keep the floor, soon. */
	keepSoon(draft: Draft): void {
		clearTimeout(this.#timer);
		this.#timer = setTimeout(() => {
			this.isKept = keepText(KEY, JSON.stringify(draft));
		}, PAUSE);
	}

	async #open(
		text: string,
		unit: PolygonUnit | undefined,
		refused: string,
		opened: (name: string) => string,
	): Promise<void> {
		const { open, plan } = preferences.text;
		this.waiting = undefined;
		const answer = await readText({ text, roomName: open.roomName, ...(unit ? { unit } : {}) }).catch(() => undefined);
		if (answer === undefined) this.#tell(open.tooSlow);
		else if ("needsUnit" in answer) {
			this.waiting = text;
			this.#tell("");
		} else if ("problems" in answer) this.#tell(refused, answer.problems);
		else {
			this.#playground.replace(answer.draft);
			this.#tell(opened(answer.draft.name || plan.unnamed));
		}
	}

	#tell(message: string, problems: Keeper["problems"] = []): void {
		this.#told = { message, revision: this.#playground.revision };
		this.problems = problems;
		this.#playground.announce(message);
	}
}

/** A floor that this page kept in the middle of being drawn, when the reader would refuse it. */
function unfinished(text: string): Draft | undefined {
	try {
		const read: unknown = JSON.parse(text);
		return isDraft(read) ? read : undefined;
	} catch {
		return undefined;
	}
}
