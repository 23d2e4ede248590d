/** What a click on the floor does. `scale` sets the scale of the picture under the drawing. */
export type Tool = "select" | "room" | "hole" | "keepout" | "doorway" | "manifold" | "scale";

/** Tools in the order in which they stand at the edge, with the key that takes each up while the plan has the focus. */
export const toolKeys = [
	{ tool: "select", key: "v" },
	{ tool: "room", key: "r" },
	{ tool: "keepout", key: "k" },
	{ tool: "hole", key: "h" },
	{ tool: "doorway", key: "d" },
	{ tool: "manifold", key: "m" },
] as const satisfies readonly { tool: Tool; key: string }[];

export type OutlineShape = "rectangle" | "outline";

/** A tool that draws something with a floor of its own. */
export type OutlineTool = "room" | "hole" | "keepout";

/** A tool that sets something into a wall with one click. */
export type WallTool = "doorway" | "manifold";

export const drawsOutline = (tool: Tool): tool is OutlineTool =>
	tool === "room" || tool === "hole" || tool === "keepout";

export const setsIntoWall = (tool: Tool): tool is WallTool => tool === "doorway" || tool === "manifold";
