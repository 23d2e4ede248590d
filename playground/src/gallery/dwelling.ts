import dwelling from "../../../docs/examples/dwelling.json";
import bathroom from "../../../docs/examples/rooms/bathroom.json";
import bootRoom from "../../../docs/examples/rooms/boot-room.json";
import gardenBedroom from "../../../docs/examples/rooms/garden-bedroom.json";
import hall from "../../../docs/examples/rooms/hall.json";
import kitchen from "../../../docs/examples/rooms/kitchen.json";
import lockRoom from "../../../docs/examples/rooms/lock-room.json";
import riverBedroom from "../../../docs/examples/rooms/river-bedroom.json";
import tollOffice from "../../../docs/examples/rooms/toll-office.json";
import { type Draft, roomsOf } from "../document/draft.ts";

// the tests read every example with the library's reader; JSON has no tuples, so its type cannot say as much
const asDraft = (document: unknown): Draft => document as Draft;

/** The demo dwelling as one floor. */
export const house: Draft = asDraft(dwelling);

/** Its rooms, each with a manifold of its own. */
export const houseRooms: readonly Draft[] = [
	kitchen,
	lockRoom,
	hall,
	gardenBedroom,
	riverBedroom,
	tollOffice,
	bathroom,
	bootRoom,
].map(asDraft);

/** What the page opens with. */
export const firstFloor: Draft = asDraft(kitchen);

/** The name of a floor's first room. */
export function firstRoomName(draft: Draft): string {
	return roomsOf(draft)[0]?.properties.name ?? draft.name;
}
