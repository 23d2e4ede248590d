import { drawPlan, readFloor, routeFloor, type Theme } from "oxturn";
import { sampleRoom } from "../../help/sampleRoom.ts";

/** One to so many: the room comes out small on the sheet, and beside it the words on the plan large. */
const SCALE = 75;
/** Round the room, mm on paper: its walls, and the manifold in one of them. */
const AROUND = { side: 5, top: 5, bottom: 5 } as const;

export interface SamplesInput {
	readonly theme: Theme;
	/** What the room is called. */
	readonly room: string;
}

/** One room in each pattern, routed and drawn by the library: SVG text. */
export interface Samples {
	readonly serpentine: string;
	readonly spiral: string;
}

export function samples({ theme, room }: SamplesInput): Samples {
	const document = {
		...sampleRoom,
		features: sampleRoom.features.map((feature) =>
			feature.properties.kind === "room" ? { ...feature, properties: { ...feature.properties, name: room } } : feature,
		),
	};
	const { floor } = readFloor(document);
	const drawn = (pattern: "serpentine" | "spiral"): string =>
		planAlone(drawPlan({ floor, layout: routeFloor(document, { pattern }), theme, scale: SCALE }));
	return { serpentine: drawn("serpentine"), spiral: drawn("spiral") };
}

/** Of the library's sheet only the room: its tables cannot be read as small as a picture in the help is. */
function planAlone(sheet: string): string {
	const outline = /id="room-sample" d="([^"]+)"/.exec(sheet)?.[1] ?? "";
	const corners = outline.match(/-?[\d.]+ -?[\d.]+/g)?.map((pair) => pair.split(" ").map(Number)) ?? [];
	const xs = corners.map(([x = 0]) => x);
	const ys = corners.map(([, y = 0]) => y);
	const [left, top] = [Math.min(...xs) - AROUND.side, Math.min(...ys) - AROUND.top];
	const [width, height] = [Math.max(...xs) + AROUND.side - left, Math.max(...ys) + AROUND.bottom - top];
	return sheet.replace(
		/ width="[^"]*" height="[^"]*" viewBox="[^"]*"/,
		` width="${width}mm" height="${height}mm" viewBox="${left} ${top} ${width} ${height}"`,
	);
}
