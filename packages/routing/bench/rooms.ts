import type { Floor, PatternName } from "@oxturn/floor";
import type { Point, Ring } from "@oxturn/geometry";

/** mm */
export const SPACING = 200;

const area = (ring: Ring): number =>
	ring.reduce((sum, [x, y], i) => sum + (ring.at(i - 1)![0] * y - x * ring.at(i - 1)![1]) / 2, 0);

/** The same shape with `squareMetres` of floor. */
function scaledTo(squareMetres: number, ring: Ring): Ring {
	const k = Math.sqrt((squareMetres * 1e6) / area(ring));
	return ring.map(([x, y]): Point => [Math.round(x * k), Math.round(y * k)]);
}

const aroundMiddle = (corners: number, radius: (i: number) => number): Ring =>
	Array.from({ length: corners }, (_, i): Point => {
		const angle = (2 * Math.PI * (i - 0.5)) / corners - Math.PI / 2;
		return [radius(i) * Math.cos(angle), radius(i) * Math.sin(angle)];
	});

export const rectangleOf = (squareMetres: number): Ring =>
	scaledTo(squareMetres, [
		[0, 0],
		[5, 0],
		[5, 4],
		[0, 4],
	]);

/** Rooms of 20 m2, with the wall from the first corner to the second free for the manifold. */
export const rooms: readonly { readonly name: string; readonly outer: Ring }[] = [
	{ name: "rectangle", outer: rectangleOf(20) },
	{
		name: "L",
		outer: scaledTo(20, [
			[0, 0],
			[5.6, 0],
			[5.6, 2.8],
			[2.8, 2.8],
			[2.8, 5],
			[0, 5],
		]),
	},
	{
		name: "24-gon",
		outer: scaledTo(
			20,
			aroundMiddle(24, () => 1),
		),
	},
	{
		name: "50 corners",
		outer: scaledTo(
			20,
			aroundMiddle(50, (i) => 1 + 0.08 * Math.sin(3 * i * 0.1257) + 0.01 * (i % 3)),
		),
	},
];

/** One manifold for about so many loops: ports of more would not fit side by side on a wall within reach. */
const LOOPS_EACH = 9;
const LOOP_LENGTH = 120;
/** As a share of the wall that each has to itself. */
const OFF_MIDDLE = 0.06;

/**
 * A 5 : 4 hall of `size` m2 with its manifolds along both of its long walls, as many on one as on the other. They hang
 * a little off the middle of their shares, so that no two bays are equal: those would be routed once.
 */
export function hallOf(size: number): Floor {
	const outer = rectangleOf(size);
	const [width, depth] = outer[2]!;
	const wanted = Math.ceil((size * 1000) / SPACING / LOOP_LENGTH / LOOPS_EACH);
	const near = Math.max(1, Math.ceil(wanted / 2));
	const far = wanted > 1 ? near : 0;
	const row = (amount: number, y: number, facing: number): Floor["manifolds"] =>
		Array.from({ length: amount }, (_, i) => ({
			id: `m${y}-${i}`,
			position: [Math.round((width * (i + 0.5 + OFF_MIDDLE * Math.sin(1 + i + y))) / amount), y],
			facing,
			portPitch: 50,
			ports: undefined,
		}));
	return { ...floorOf(outer, "auto"), manifolds: [...row(near, 0, 90), ...row(far, depth, -90)] };
}

/** One room laid by a 16 mm pipe at 200 mm, its manifold in the middle of its first wall. */
export function floorOf(outer: Ring, pattern: PatternName): Floor {
	const [[ax, ay], [bx, by]] = [outer[0]!, outer[1]!];
	return {
		name: "bench",
		system: {
			pipe: { outerDiameter: 16, wallThickness: 2, minBendRadius: 80 },
			maxLoopLength: LOOP_LENGTH,
			spacing: SPACING,
			edgeDistance: undefined,
			tailSpacing: 50,
		},
		rooms: [
			{
				id: "room",
				name: "",
				region: { outer, holes: [] },
				heated: true,
				spacing: SPACING,
				edgeDistance: SPACING / 2,
				share: false,
				pattern,
			},
		],
		doorways: [],
		keepouts: [],
		manifolds: [
			{
				id: "m1",
				position: [(ax + bx) / 2, (ay + by) / 2],
				facing: (Math.atan2(by - ay, bx - ax) * 180) / Math.PI + 90,
				portPitch: 50,
				ports: undefined,
			},
		],
	};
}
