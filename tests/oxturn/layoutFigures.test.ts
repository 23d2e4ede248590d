import { auditLayout, layoutFigures, readFloor, readLayout, routeFloor } from "oxturn";
import { describe, expect, it } from "vitest";
import { sharpLayout, study, studyAndCell, twoStudies } from "./documents.ts";

describe("layoutFigures", () => {
	it("sums up what can be read off a pipe by hand", () => {
		const { floor } = readFloor(study);
		const channels = [
			{
				id: "C1",
				room: "study",
				pipes: 4,
				width: 200,
				path: [
					[0, 0],
					[3000, 0],
				],
			},
		];
		const figures = layoutFigures(floor, readLayout({ ...sharpLayout, channels }));
		expect(figures).toMatchObject({ loops: 1, pipe: 4.025, longest: 4.025, limit: 100, bends: 2, tails: 12 });
		// the pipe bends sharper than any pipe can
		expect(figures.findings.map(({ rule }) => rule)).toContain("bend");
	});

	it("weighs rooms by their floor, and takes the worst cold spot", () => {
		const { floor } = readFloor(studyAndCell);
		const layout = routeFloor(studyAndCell);
		const [heated, cold] = auditLayout(floor, layout).coverage;
		const figures = layoutFigures(floor, layout);
		expect(figures.rooms.map(({ room }) => room)).toEqual(["study", "cell"]);
		// 12 m2 with pipe, 6 m2 without
		expect(figures.within100).toBeCloseTo((2 / 3) * heated!.within100, 3);
		expect(figures.coldSpot).toBe(cold!.coldSpot);
	});

	it("has nothing against a floor without heated rooms", () => {
		const { floor } = readFloor({
			...(study as object),
			features: (study as { features: { properties: object }[] }).features.map((feature) => ({
				...feature,
				properties: { ...feature.properties, heated: false },
			})),
		});
		const layout = { ...routeFloor(twoStudies), features: [], channels: [] };
		expect(layoutFigures(floor, layout)).toMatchObject({ loops: 0, longest: 0, within100: 1, coldSpot: 0, rooms: [] });
	});

	it("stops when the signal has fired", () => {
		const { floor } = readFloor(study);
		expect(() => layoutFigures(floor, readLayout(sharpLayout), { signal: AbortSignal.abort() })).toThrow(
			expect.objectContaining({ code: "ABORTED" }),
		);
	});
});
