import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readSize } from "../../playground/src/tools/readSize.ts";
import { formatArea, formatLength, formatPipe, formatSmall, readLength } from "../../playground/src/units/lengths.ts";

const number = (value: number, digits: number): string => value.toFixed(digits);
const plain = (text: string): string => text.replaceAll("\u00a0", " ");

describe("typed lengths", () => {
	// the inch is 25.4 mm exactly (international yard and pound agreement, 1959)
	test.each([
		["2400", "metric", 2400],
		["2.4 m", "metric", 2400],
		["2,4m", "metric", 2400],
		["240 cm", "metric", 2400],
		["2400mm", "imperial", 2400],
		["10", "imperial", 254],
		["8'", "metric", 2438.4],
		["7' 10 1/2\"", "metric", 2400.3],
		["7'10\"", "imperial", 2387.6],
		["6 ft", "metric", 1828.8],
		["-300", "metric", -300],
		["\u2212300", "metric", -300],
		['3/8"', "metric", 9.525],
		['11 1/2"', "metric", 292.1],
		["\u22121' 6\"", "metric", -457.2],
		["2' 3/4\"", "metric", 628.65],
	] as const)("%s (%s) is read", (typed, units, mm) => {
		expect(readLength(typed, units)).toBeCloseTo(mm, 6);
	});

	test.each(["", "wide", "3 miles", "1e9x", "7' 10 1/0\"", "--3", "1 2 3", '"', "'", "8' \"", "3/4", '1/0"'])(
		"%j is none",
		(typed) => {
			expect(readLength(typed, "metric")).toBeUndefined();
		},
	);

	test("are read as they are shown, to the eighth of an inch that is shown", () => {
		fc.assert(
			fc.property(fc.integer({ min: -1_000_000, max: 1_000_000 }), (mm) => {
				const read = readLength(formatLength(mm, "imperial", number), "imperial");
				expect(Math.abs(read! - mm)).toBeLessThanOrEqual(25.4 / 16 + 1e-6);
			}),
		);
	});

	test("a size is two of them", () => {
		expect(readSize("4000 x 3 m", "metric")).toEqual({ width: 4000, depth: 3000 });
		expect(readSize("4m×3,5m", "metric")).toEqual({ width: 4000, depth: 3500 });
		expect(readSize("4000", "metric")).toBeUndefined();
		expect(readSize("4000 x 0", "metric")).toBeUndefined();
		expect(readSize("1 x 2 x 3", "metric")).toBeUndefined();
	});
});

describe("shown lengths", () => {
	test("are metres, or feet and inches to an eighth", () => {
		expect(plain(formatLength(4370, "metric", number))).toBe("4.37 m");
		expect(plain(formatLength(4375, "metric", number))).toBe("4.375 m");
		expect(plain(formatLength(2400.3, "imperial", number))).toBe("7' 10 1/2\"");
		expect(plain(formatLength(3048, "imperial", number))).toBe("10' 0\"");
		expect(plain(formatLength(9.525, "imperial", number))).toBe('3/8"');
		expect(plain(formatLength(-304.8, "imperial", number))).toBe("\u22121' 0\"");
	});

	test("other measures have their own units", () => {
		expect(plain(formatSmall(150, "metric", number))).toBe("150 mm");
		expect(formatSmall(152.4, "imperial", number)).toBe('6.00"');
		expect(plain(formatPipe(74.21, "metric", number))).toBe("74.2 m");
		expect(plain(formatPipe(30.48, "imperial", number))).toBe("100 ft");
		expect(plain(formatArea(18, "metric", number))).toBe("18.0 m²");
		expect(plain(formatArea(9.290304, "imperial", number))).toBe("100 ft²");
	});
});
