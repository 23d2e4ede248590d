/** The tolerances of the audit in one place, mm unless another unit is named. */

/** Points nearer than this to the one before are one point: they carry no direction. */
export const MERGE = 1;

/** No pipe is followed in longer stretches than this. */
export const STRETCH = 40;

/** No layout is cut into many more pieces than this; beyond it, with kilometres of pipe, the pieces grow. */
export const MOST_PIECES = 500_000;

/** Rooms and doorways this close count as connected; outlines are drawn no finer. */
export const WALL_SLACK = 2;

/** How deep the pipe's skin may lie in a keep-out: flattened arcs and rounded coordinates. */
export const KEEPOUT_SLACK = 1;

/** Both ends of a loop lie this near to its manifold; nearer than this the skin may touch a wall. */
export const PORT_REACH = 600;

/** Two pipe ends need this much between them to be connected at all. */
export const PORT_APART = 20;

/** Round a manifold pipes fan out from the ports and may lie as close as their skins allow. */
export const MANIFOLD_ZONE = 800;

/** Pipes laid next to each other may lose this share of the tail spacing to flattening and rounding. */
export const CLEARANCE_SHARE = 0.97;

/** Measured clearances are good to this. */
export const CLEARANCE_SLACK = 0.01;

/** Largest distance of a chord from its arc that the layout document allows. */
export const CHORD_ERROR = 0.5;

/** A loop may be longer than the limit by this factor: flattening and rounding. */
export const LENGTH_FACTOR = 1.002;

/** The stated length of a loop may be off by this share. */
export const STATED_LENGTH_SHARE = 0.005;

/** Smaller heated rooms may stay without pipe in silence, mm2. */
export const SMALLEST_SERVED = 1e6;
