import type { Point } from "@oxturn/geometry";
import { expect, test } from "vitest";
import { type LaidLoop, withoutFaults } from "../../packages/routing/src/withoutFaults.ts";
import { floorOf, manifoldAt, rectangle, roomOf } from "../audit/handmade.ts";

const [den, hall] = [roomOf("den", rectangle(0, 0, 3000, 3000)), roomOf("hall", rectangle(3000, 0, 6000, 3000))];
const manifold = manifoldAt([3000, 0]);
const floor = floorOf([den, hall], [manifold]);

/** From its flow port up, across at a height, and down to its return port. */
function hoop(room: typeof den, port: number, flow: number, back: number, height: number): LaidLoop {
	const path: Point[] = [
		[flow, 0],
		[flow, height],
		[back, height],
		[back, 0],
	];
	const length = (Math.abs(back - flow) + 2 * height) / 1000;
	return { rooms: [room], manifold, loop: { port, path, pattern: "serpentine", spacing: 200, length } };
}

test("a loop that is left out is told of by rooms, since the loops that stay are numbered anew", () => {
	const across = hoop(den, 1, 2850, 2950, 2000);
	const { features, leftOut } = withoutFaults(floor, [
		across,
		hoop(hall, 2, 2900, 3050, 1500),
		hoop(hall, 3, 2800, 3100, 1800),
	]);
	const told = leftOut.flatMap(({ notices }) => notices);
	expect(told.length).toBeGreaterThan(0);
	for (const { message, details } of told) {
		expect(message).toMatch(/"(den|hall) \d"/);
		expect(`${message} ${details?.subjects}`).not.toMatch(/\bL\d/);
	}
	expect(features.map(({ id }) => id)).toEqual(features.map((_, i) => `L${i + 1}`));
});
