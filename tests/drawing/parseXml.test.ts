import { expect, test } from "vitest";
import { parseXml } from "./parseXml.ts";

const document = (body: string): string => `<?xml version="1.0" encoding="UTF-8"?>\n${body}`;

test("the tests' reader takes well-formed documents apart", () => {
	const root = parseXml(document('<a b="1 &amp; 2">x<c/>&lt;<d>y</d></a>\n'));
	expect(root).toMatchObject({ name: "a", attributes: { b: "1 & 2" }, text: "x<y" });
	expect(root.children.map(({ name }) => name)).toEqual(["c", "d"]);
});

test.each([
	["an open element", "<a><b></a>"],
	["a second root", "<a/><b/>"],
	["a bare ampersand", "<a>1 & 2</a>"],
	["an unknown reference", "<a>&nbsp;</a>"],
	["an attribute without quotes", "<a b=1/>"],
	["the same attribute twice", '<a b="1" b="2"/>'],
	["markup in an attribute", '<a b="<"/>'],
	["a control character", "<a>\u0008</a>"],
	["half a surrogate pair", "<a>\ud800</a>"],
])("the tests' reader refuses %s", (_, body) => {
	expect(() => parseXml(document(body))).toThrow();
});
