import fc from "fast-check";
import { area, manifold } from "./documents.ts";

type Position = [number, number];

const WALL = 100; // mm, between two rooms of the row

/** A closed ring with repeated points, corners on straight walls, and perhaps the wrong way round: all allowed. */
function drawCarelessly(ring: readonly Position[], isReversed: boolean, extra: number): Position[] {
	const drawn = ring.flatMap(([x, y], i): Position[] => {
		const [nextX, nextY] = ring[(i + 1) % ring.length]!;
		const between: Position = [(x + nextX) / 2, (y + nextY) / 2];
		return (extra >> i) & 1 ? [[x, y], between, between] : [[x, y]];
	});
	const closed = [...drawn, drawn[0]!];
	return isReversed ? closed.reverse() : closed;
}

interface RoomDrawing {
	readonly width: number;
	readonly depth: number;
	readonly notch: number;
	readonly hasColumn: boolean;
	readonly isReversed: boolean;
	readonly extra: number;
	readonly properties: object;
}

const optional = <Value>(arbitrary: fc.Arbitrary<Value>) => fc.option(arbitrary, { nil: undefined, freq: 2 });

/** Members that are not there rather than `undefined`. */
function present(properties: Readonly<Record<string, unknown>>): object {
	return Object.fromEntries(Object.entries(properties).filter(([, value]) => value !== undefined));
}

const roomDrawing: fc.Arbitrary<RoomDrawing> = fc.record({
	width: fc.integer({ min: 1500, max: 6000 }),
	depth: fc.integer({ min: 1500, max: 6000 }),
	notch: fc.integer({ min: 0, max: 700 }),
	hasColumn: fc.boolean(),
	isReversed: fc.boolean(),
	extra: fc.nat(63),
	properties: fc
		.record({
			name: optional(fc.string()),
			heated: optional(fc.boolean()),
			spacing: optional(fc.integer({ min: 50, max: 600 })),
			share: optional(fc.boolean()),
			pattern: optional(fc.constantFrom("serpentine", "spiral", "auto")),
			colour: optional(fc.string()),
		})
		.map(present),
});

const system = fc
	.record({
		pipe: optional(
			fc.constantFrom({}, { outerDiameter: 20 }, { outerDiameter: 12, minBendRadius: 60, wallThickness: 1 }),
		),
		maxLoopLength: optional(fc.integer({ min: 20, max: 120 })),
		spacing: optional(fc.integer({ min: 50, max: 600 })),
		edgeDistance: optional(fc.integer({ min: 50, max: 300 })),
		tailSpacing: optional(fc.integer({ min: 40, max: 100 })),
	})
	.map(present);

/**
 * Valid floor documents: a row of rooms with a notch each, some with a column, a doorway between neighbours, a
 * keep-out in the last room and a manifold on the lower wall of the first; turned and moved anywhere.
 */
export const floorDocument = fc
	.record({
		drawings: fc.array(roomDrawing, { minLength: 1, maxLength: 5 }),
		system: optional(system),
		name: optional(fc.string()),
		statesRooms: fc.boolean(),
		turn: fc.integer({ min: -180, max: 180 }),
		move: fc.tuple(fc.integer({ min: -500_000, max: 500_000 }), fc.integer({ min: -500_000, max: 500_000 })),
	})
	.map(({ drawings, system, name, statesRooms, turn, move }) => {
		const cos = Math.cos((turn * Math.PI) / 180);
		const sin = Math.sin((turn * Math.PI) / 180);
		const place = ([x, y]: Position): Position => [move[0] + x * cos - y * sin, move[1] + x * sin + y * cos];
		const box = (x: number, y: number, width: number, depth: number): Position[] => {
			const corners: Position[] = [
				[x, y],
				[x + width, y],
				[x + width, y + depth],
				[x, y + depth],
			];
			return corners.map(place);
		};
		const closed = (ring: Position[]): Position[] => [...ring, ring[0]!];

		const features: object[] = [];
		let x = 0;
		for (const [i, { width, depth, notch, hasColumn, isReversed, extra, properties }] of drawings.entries()) {
			const outline: Position[] =
				notch === 0
					? box(x, 0, width, depth)
					: [
							...box(x, 0, width, depth).slice(0, 2),
							...(
								[
									[x + width, depth - notch],
									[x + width - notch, depth - notch],
									[x + width - notch, depth],
									[x, depth],
								] as Position[]
							).map(place),
						];
			const rings = [drawCarelessly(outline, isReversed, extra)];
			if (hasColumn) rings.push(drawCarelessly(box(x + 300, 400, 200, 200), !isReversed, extra));
			features.push(area("room", `room-${i}`, rings, properties));
			if (i + 1 < drawings.length) {
				const joins = statesRooms ? { between: [`room-${i}`, `room-${i + 1}`] } : {};
				features.push(area("doorway", `door-${i}`, [closed(box(x + width - 1, 0, WALL + 2, 700))], joins));
			}
			x += width + WALL;
		}
		features.push(area("keepout", "units", [closed(box(x - WALL - 400, 100, 300, 300))]));
		features.push(manifold("m1", place([drawings[0]!.width / 2 + 300, 0]), turn + 90));
		return present({ type: "FeatureCollection", units: "mm", name, system, features });
	});

/**
 * A closed star-shaped outline of 3 to 40 corners, mm, with `spikes` of zero width stuck to some of its corners, and
 * the outline without them.
 */
export const spikyOutline = fc
	.array(fc.record({ radius: fc.integer({ min: 2000, max: 6000 }), spike: fc.integer({ min: -3000, max: 3000 }) }), {
		minLength: 3,
		maxLength: 40,
	})
	.map((corners) => {
		const plain = corners.map(({ radius }, i): Position => {
			const angle = (2 * Math.PI * i) / corners.length;
			return [radius * Math.cos(angle), radius * Math.sin(angle)];
		});
		const spiky = plain.flatMap(([x, y], i): Position[] => {
			const { spike } = corners[i]!;
			return spike <= 0
				? [[x, y]]
				: [
						[x, y],
						[x + spike, y],
						[x + 2 * spike, y],
						[x, y],
					];
		});
		return { plain, closed: [...spiky, spiky[0]!] };
	});
