import type { Problem } from "oxturn";
import { type Draft, featureOf } from "../document/draft.ts";
import type { Texts } from "../text/catalogue.ts";

/** A ring of a polygon by its place in the document: the outline is 0, its holes follow. */
const RING = /^geometry\.coordinates\.(\d+)/;

/**
 * A plain sentence in the reader's language for what the library's reader says in English, by what it is about. `draft`
 * is the floor in hand; a document that was refused may have nothing in it.
 */
export function problemLead({ subject, member }: Problem, draft: Draft | undefined, texts: Texts["problems"]): string {
	if (member.startsWith("system")) return texts.setting;
	if (member === "features") return texts.missing;
	const kind = draft && featureOf(draft, subject)?.properties.kind;
	if (kind === undefined) return texts.form;
	if (kind === "doorway") return texts.doorway;
	if (kind === "manifold" && member === "properties.facing") return texts.facing;
	if (member.startsWith("properties")) return texts.setting;
	if (kind === "manifold") return texts.manifold;
	const ring = RING.exec(member)?.[1];
	if (ring === undefined) return texts.overlap;
	return ring === "0" ? texts.outline : texts.hole;
}
