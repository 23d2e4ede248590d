import type { Floor } from "@oxturn/floor";

/** Stopped by its signal; a room that the floor has not; an option that makes no sense. */
export type RouteErrorCode = "ABORTED" | "ROOM_UNKNOWN" | "OPTION_INVALID";

/** Thrown when a caller asks for what cannot be done, or stops the work. A floor that cannot be served is a result. */
export class RouteError extends Error {
	readonly code: RouteErrorCode;

	constructor(code: RouteErrorCode, message: string) {
		super(message);
		this.name = "RouteError";
		this.code = code;
	}
}

/** Throws `RouteError` with code `ABORTED` once `signal` has fired. */
export function throwIfAborted(signal: AbortSignal | undefined): void {
	if (signal?.aborted) throw new RouteError("ABORTED", "Routing was stopped before a layout was ready.");
}

/** What is told of a room that the floor has not. */
export const unknownRoom = ({ rooms }: Floor, id: string): string =>
	`Found no room "${id}", expected one of ${rooms.map((room) => `"${room.id}"`).join(", ")}.`;
