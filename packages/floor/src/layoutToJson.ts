import type { Layout } from "./types.ts";

function lines(items: readonly unknown[]): string {
	return items.length === 0 ? "[]" : `[\n${items.map((item) => `    ${JSON.stringify(item)}`).join(",\n")}\n  ]`;
}

/**
 * Writes a layout document as JSON text, one loop, channel or notice a line, so that two layouts compare well line by
 * line. The same layout gives the same text.
 */
export function layoutToJson(layout: Layout): string {
	const { type, units, name, features, channels, notices } = layout;
	return `{
  "type": ${JSON.stringify(type)},
  "units": ${JSON.stringify(units)},
  "name": ${JSON.stringify(name)},
  "features": ${lines(features)},
  "channels": ${lines(channels)},
  "notices": ${lines(notices)}
}
`;
}
