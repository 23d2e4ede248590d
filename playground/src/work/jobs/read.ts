import { FloorError, type Problem, readFloorText } from "oxturn";
import type { Draft } from "../../document/draft.ts";
import { readDraft } from "../../document/readDraft.ts";
import { holdsPlainPolygons, type PolygonUnit, roomsFromGeoJson } from "../../keep/geoJsonRooms.ts";

export interface ReadInput {
	readonly text: string;
	/** What one unit of plain polygons stands for; unknown until someone has been asked. */
	readonly unit?: PolygonUnit;
	/** What rooms without a name are called, before their number. */
	readonly roomName: string;
}

/** A floor; what is wrong with it; or polygons whose unit only a person can tell. */
export type ReadAnswer =
	| { readonly draft: Draft }
	| { readonly problems: readonly Problem[] }
	| { readonly needsUnit: true };

/** Reads a text that somebody else wrote: a file, a link, what was kept in the browser. */
export function read({ text, unit, roomName }: ReadInput): ReadAnswer {
	try {
		let document: unknown;
		try {
			document = JSON.parse(text);
		} catch {
			// the library's reader says in which line the text stops being JSON
			readFloorText(text);
		}
		if (!holdsPlainPolygons(document)) return { draft: readDraft(document) };
		if (unit === undefined) return { needsUnit: true };
		return { draft: readDraft(roomsFromGeoJson(document, unit, roomName)) };
	} catch (error) {
		if (error instanceof FloorError) return { problems: error.problems };
		throw error;
	}
}
