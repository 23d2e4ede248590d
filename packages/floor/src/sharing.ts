import type { Region } from "@oxturn/geometry";
import { regionArea } from "./rings.ts";
import type { Room } from "./types.ts";

/** A room smaller than this may share a loop with a neighbour unless it says otherwise, mm2. */
const SHARES_BELOW = 4e6;

type Sharing = Pick<Room, "share" | "keptApart">;

/** What the `share` of a document makes of a room. */
export const sharingRead = (share: boolean | undefined, region: Region): Sharing => ({
	share: share ?? regionArea(region) < SHARES_BELOW,
	...(share === false ? { keptApart: true } : {}),
});

/** The `share` that a document gives a room: none where the room is only too large to be asked. */
export const sharingWritten = ({ share, keptApart, region }: Sharing & Pick<Room, "region">): { share?: boolean } =>
	share || keptApart || regionArea(region) < SHARES_BELOW ? { share } : {};
