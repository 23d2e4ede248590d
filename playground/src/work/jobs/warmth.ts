import { contours } from "d3";
import { auditLayout, distanceMap, type Floor, type Layout, type Point, type RoomDistances } from "oxturn";
import { WARMTH_STEPS } from "../../stage/bands.ts";

export interface WarmthInput {
	readonly floor: Floor;
	readonly layout: Layout;
}

/** Floor at least so many spacings from the nearest pipe: SVG path data in floor mm, y down. */
export interface WarmthBand {
	readonly from: number;
	readonly path: string;
}

/** How far the floor of one room is from its pipes. */
export interface Warmth {
	/** Id of the room. */
	readonly room: string;
	/** mm */
	readonly spacing: number;
	/** No pipe lies in it. */
	readonly isBare: boolean;
	readonly bands: readonly WarmthBand[];
	readonly farthest: { readonly at: Point; readonly distance: number } | undefined;
	/** Shares of the floor within 0.55 and one spacing of a pipe. */
	readonly within055: number;
	readonly within100: number;
	/** Diameter of the largest cold spot, mm. */
	readonly coldSpot: number;
}

/** Side of the map's cells, mm. */
const CELL = 40;

/** The distance to the nearest pipe as contours, with the shares that the audit measures. */
export function warmth({ floor, layout }: WarmthInput): Warmth[] {
	const { coverage } = auditLayout(floor, layout);
	const shares = new Map(coverage.map((room) => [room.room, room]));
	return distanceMap(floor, layout, { cell: CELL }).map((map) => {
		const { within055 = 0, within100 = 0, coldSpot = 0 } = shares.get(map.room) ?? {};
		const { room, spacing, farthest } = map;
		const isBare = map.distances.length === 0;
		return { room, spacing, isBare, bands: isBare ? [] : bandsOf(map), farthest, within055, within100, coldSpot };
	});
}

function bandsOf({ distances, spacing, columns, rows, origin, cell }: RoomDistances): WarmthBand[] {
	const draw = contours()
		.size([columns, rows])
		.thresholds(WARMTH_STEPS.map((step) => step * spacing));
	return draw([...distances]).map(({ value, coordinates }, index) => ({
		from: WARMTH_STEPS[index] ?? value / spacing,
		path: coordinates
			.flat()
			.map((ring) => {
				const points = ring.map(([x = 0, y = 0]) => {
					// contours end in the middle of the outermost cells; the floor goes on to their edge
					const [column, row] = [stretch(x, columns), stretch(y, rows)];
					return `${Math.round(origin[0] + column * cell)},${Math.round(-(origin[1] + row * cell))}`;
				});
				return `M${points.join("L")}Z`;
			})
			.join(""),
	}));
}

const stretch = (at: number, size: number): number => (at <= 0.5 ? at - 0.5 : at >= size - 0.5 ? at + 0.5 : at);
