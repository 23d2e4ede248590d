import { routeFloor } from "oxturn";
import { describe, expect, test } from "vitest";
import { type Draft, emptyDraft, type ManifoldFeature } from "../../playground/src/document/draft.ts";
import { addManifold, addRoom } from "../../playground/src/edit/features.ts";
import { facingOfPorts } from "../../playground/src/stage/facingOfPorts.ts";
import { rectangle } from "./floors.ts";

const withManifold = (facing: number): Draft =>
	addManifold(addRoom(emptyDraft, rectangle(0, 0, 5000, 4000), "Weir room").draft, [2500, 0], facing).draft;

const manifoldOf = ({ features }: Draft): ManifoldFeature =>
	features.find((feature): feature is ManifoldFeature => feature.properties.kind === "manifold")!;

describe("the way a manifold is drawn", () => {
	test("is square to the wall that its ports lie along, though its facing is a little off that", () => {
		for (const facing of [90, 84, 97]) {
			const draft = withManifold(facing);
			const { features } = routeFloor(draft);
			expect(features.length).toBeGreaterThan(0);
			expect(facingOfPorts(manifoldOf(draft), features)).toBeCloseTo(90, 1);
		}
	});

	test("is its facing as long as it feeds no loop", () => {
		expect(facingOfPorts(manifoldOf(withManifold(84)), [])).toBe(84);
	});
});
