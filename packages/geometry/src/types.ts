/** A place in the plane, mm. */
export type Point = readonly [x: number, y: number];

/** A closed ring: the first point is not repeated at the end. Outer rings run anticlockwise, holes clockwise. */
export type Ring = readonly Point[];

/** An open polyline, mm. */
export type Path = readonly Point[];

/** A simple polygon with holes. */
export interface Region {
	readonly outer: Ring;
	readonly holes: readonly Ring[];
}
