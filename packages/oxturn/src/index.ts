/**
 * Oxturn plans the loops of water underfloor heating: it reads a floor, routes every pipe, judges and draws the result.
 *
 * Coordinates and small dimensions are millimetres, loop lengths metres. Documents, floors, layouts and figures are plain
 * data, which `structuredClone` copies; documents and layouts are JSON. Nothing here touches files or the DOM, so it runs
 * alike in Node, in a page and in a worker. Every call is synchronous.
 *
 * What a caller does wrong is thrown: a `FloorError` or a `LayoutError` for a document, with every problem in `problems`;
 * a `RouteError` with a `code` for routing, placing and judging; a `RangeError` for a measure of a drawing or a map, or a
 * theme that there is not. What a floor does not allow is no error: the layout has a notice of it.
 *
 * @packageDocumentation
 */

export {
	type ChannelRow,
	channelSchedule,
	type DrawPlanOptions,
	drawPlan,
	formatChannels,
	formatSchedule,
	loopSchedule,
	type ScheduleOptions,
	type ScheduleRow,
	type ScheduleTotals,
	scheduleTotals,
	type Theme,
} from "@oxturn/drawing";
export {
	type Channel,
	type Doorway,
	type Floor,
	type FloorDocument,
	FloorError,
	type FloorFeature,
	type FloorNoticeCode,
	type FloorPolygon,
	floorNoticeCodes,
	floorToGeoJson,
	type Keepout,
	type Layout,
	LayoutError,
	type LoopFeature,
	type LoopProperties,
	layoutToJson,
	type Manifold,
	type Notice,
	type NoticeDetails,
	type PatternName,
	type Pipe,
	type Problem,
	type ReadFloor,
	type Room,
	readFloor,
	readFloorText,
	readLayout,
	readLayoutText,
	type System,
} from "@oxturn/floor";
export type { Point, Region, Ring } from "@oxturn/geometry";
export {
	type AuditFinding,
	type AuditOptions,
	type AuditReport,
	type AuditRule,
	auditLayout,
	type CompareOptions,
	type ManifoldPlace,
	type PatternFigures,
	type PlaceManifoldOptions,
	placeManifold,
	type RoomCoverage,
	type RouteComparison,
	RouteError,
	type RouteErrorCode,
	type RouteMemory,
	type RouteNoticeCode,
	type RouteOptions,
	type RouteProgress,
	routeMemory,
	routeNoticeCodes,
} from "@oxturn/routing";
export { type DistanceMapOptions, distanceMap, type RoomDistances } from "./distanceMap.ts";
export { type LayoutFigures, layoutFigures } from "./layoutFigures.ts";
export { compareRoutes, routeFloor } from "./route.ts";
