import { type Path, type Region, regionArea, regionContains } from "@oxturn/geometry";
import { heatPiece, loopsOf } from "./heatPiece.ts";
import type { LaidSpace } from "./laidWays.ts";
import { coldArea, WARM_ENOUGH } from "./ownFloor.ts";
import type { RoutedWays, RouteWaysOptions } from "./routedWays.ts";
import { coldFloor } from "./routeSpace.ts";

/*
 * Where many tails leave the ports to either side, they may close the way in front of those between them: a hall has no
 * loop of its own then, or none beyond, though it stays cold there. What the tails leave of it is heated by the loops that
 * come by there.
 */

/** Rooms that tails pass which may have their floor heated by others, and are not warm from the pipes that are laid. */
function coldRooms({ laid }: RoutedWays, pipes: readonly Path[], options: RouteWaysOptions): LaidSpace[] {
	return laid.spaces.filter(({ space, crossing }) => {
		const { room, region } = options.spaces[space]!;
		if (crossing.length === 0 || !room.heated || room.keptApart || options.apart.has(room.id)) return false;
		return coldArea([region], pipes, room.spacing) > WARM_ENOUGH * regionArea(region);
	});
}

/** The cold pieces of a room that none of its own loops lies on. */
function coldPieces(laid: LaidSpace, pipes: readonly Path[], { context, spaces }: RoutedWays): Region[] {
	const own = loopsOf(spaces).filter(({ space }) => space === laid.space);
	return coldFloor(context, laid, pipes).filter(
		(piece) => !own.some(({ loop }) => loop.path.some((p) => regionContains(piece, p))),
	);
}

/**
 * The same floor with pieces of cold rooms that no loop of their own reaches heated on the way, as far as loops come by
 * with pipe to spare; undefined where none does.
 */
export function heatColdRooms(routed: RoutedWays, options: RouteWaysOptions): RoutedWays | undefined {
	const { context } = routed;
	const pipes = loopsOf(routed.spaces).map(({ loop }) => loop.path);
	let { spaces } = routed;
	for (const laid of coldRooms(routed, pipes, options))
		for (const piece of coldPieces(laid, pipes, routed)) {
			if (options.expired()) break;
			spaces = heatPiece(laid.space, piece, { context, spaces, options }) ?? spaces;
		}
	return spaces === routed.spaces ? undefined : { ...routed, spaces };
}
