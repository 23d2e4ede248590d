import fc from "fast-check";
import { type FloorError, type RouteError, type RouteProgress, readFloor, routeFloor } from "oxturn";
import { describe, expect, it } from "vitest";
import { floorOf, keepout, manifold, room, study, throughDoorway, twoStudies } from "./documents.ts";

function thrownBy(act: () => unknown): unknown {
	try {
		act();
	} catch (error) {
		return error;
	}
	throw new Error("expected something to be thrown");
}

function freeze(value: unknown): void {
	if (typeof value !== "object" || value === null) return;
	Object.freeze(value);
	for (const member of Object.values(value)) freeze(member);
}

describe("routeFloor", () => {
	it("lays pipe in every room that has a manifold, from a plain document", () => {
		const layout = routeFloor(twoStudies);
		expect(new Set(layout.features.flatMap(({ properties }) => properties.rooms))).toEqual(new Set(["east", "west"]));
		expect(layout).toMatchObject({ type: "FeatureCollection", units: "mm", name: "Ferry hut" });
	});

	it("gives the same bytes for the same document and seed, whatever was routed before", () => {
		const size = fc.integer({ min: 20, max: 50 }).map((decimetres) => decimetres * 100);
		fc.assert(
			fc.property(size, size, fc.integer({ min: 0, max: 1000 }), (width, height, seed) => {
				const floor = floorOf(room("r", 0, width, height), manifold("m1", 1000));
				const first = JSON.stringify(routeFloor(floor, { seed }));
				routeFloor(study);
				expect(JSON.stringify(routeFloor(structuredClone(floor), { seed }))).toBe(first);
			}),
			{ numRuns: 6 },
		);
	});

	it("gives one layout for every seed, as long as nothing is drawn at random", () => {
		const layout = routeFloor(twoStudies);
		for (const seed of [0, 1, 2, 4711]) expect(routeFloor(twoStudies, { seed })).toEqual(layout);
	});

	it("leaves the document as it is, and gives fresh plain data", () => {
		const document = structuredClone(study);
		freeze(document);
		const layout = routeFloor(document);
		expect(document).toEqual(study);
		expect(structuredClone(layout)).toEqual(layout);
		expect(JSON.parse(JSON.stringify(layout))).toEqual(layout);
	});

	it.each(["serpentine", "spiral"] as const)("lays every loop as %s when told to", (pattern) => {
		const { features } = routeFloor(study, { pattern });
		expect(features.length).toBeGreaterThan(0);
		expect(features.map(({ properties }) => properties.pattern)).toEqual(features.map(() => pattern));
	});

	it("puts what reading had to say before what routing has to say", () => {
		const floor = floorOf(room("study", 0, 4000, 3000), manifold("m1", 1500), keepout("skip", 9000, 9000));
		expect(readFloor(floor).notices.map(({ code }) => code)).toEqual(["KEEPOUT_OUTSIDE"]);
		expect(routeFloor(floor).notices[0]).toMatchObject({ code: "KEEPOUT_OUTSIDE", subject: "skip" });
	});

	it("refuses a bad document with every problem in it", () => {
		const error = thrownBy(() => routeFloor({ ...study, units: "m", features: [room("study", 0, 4000, 3000)] }));
		expect(error).toMatchObject({ name: "FloorError", code: "FLOOR_INVALID" });
		expect((error as FloorError).problems.map(({ member }) => member)).toEqual(["units", "features"]);
	});

	it.each([undefined, null, 7, "floor", []])("refuses %j as a document", (document) => {
		expect(thrownBy(() => routeFloor(document))).toMatchObject({ code: "FLOOR_INVALID" });
	});

	it("stops before it starts when the signal has fired", () => {
		const error = thrownBy(() => routeFloor(study, { signal: AbortSignal.abort() })) as RouteError;
		expect(error).toMatchObject({ name: "RouteError", code: "ABORTED" });
	});

	it("stops when the signal fires from onProgress, and at nothing else that runs on its thread", () => {
		const controller = new AbortController();
		const onProgress = (): void => controller.abort();
		const error = thrownBy(() => routeFloor(study, { signal: controller.signal, onProgress })) as RouteError;
		expect(error).toMatchObject({ name: "RouteError", code: "ABORTED" });
		expect(routeFloor(study, { signal: AbortSignal.timeout(1) })).toEqual(routeFloor(study));
	});

	it("lets what onProgress throws end the call", () => {
		const mine = new Error("enough");
		const onProgress = (): never => {
			throw mine;
		};
		expect(thrownBy(() => routeFloor(study, { onProgress }))).toBe(mine);
	});

	it("tells of each room once, and of the audit at the end", () => {
		const seen: RouteProgress[] = [];
		routeFloor(throughDoorway(900), { onProgress: (progress) => seen.push(progress) });
		expect(seen).toEqual([
			{ stage: "fields", fraction: 0, room: "study" },
			{ stage: "fields", fraction: 0.5, room: "cell" },
			{ stage: "audit", fraction: 1, room: "" },
		]);
	});

	it.each([
		[{ pattern: "meander" }, 'Option pattern: found "meander", expected "serpentine", "spiral" or "auto".'],
		[{ seed: 1.5 }, "Option seed: found 1.5, expected a whole number from 0."],
		[{ timeBudget: -1 }, "Option timeBudget: found -1, expected ms, 0 or more."],
		[{ timeBudget: Number.NaN }, "Option timeBudget: found NaN, expected ms, 0 or more."],
	])("refuses the option %j", (options, message) => {
		expect(thrownBy(() => routeFloor(study, options as object))).toMatchObject({ code: "OPTION_INVALID", message });
	});
});
