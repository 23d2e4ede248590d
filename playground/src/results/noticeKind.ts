import type { Notice } from "oxturn";
import { type Draft, featureOf, nameOf } from "../document/draft.ts";
import type { Texts } from "../text/catalogue.ts";

/**
 * What a notice is about in the reader's language, with the name of the thing: "No pipe: Kitchen". A code that the
 * catalogue does not know has only the name, and a notice about nothing on the floor has only its kind.
 */
export function noticeKind({ code, subject }: Notice, draft: Draft, kinds: Texts["notices"]["kinds"]): string {
	const kind = Object.entries(kinds).find(([known]) => known === code)?.[1];
	const feature = featureOf(draft, subject);
	return [kind, feature && nameOf(feature)].filter((part) => part !== undefined).join(": ");
}
