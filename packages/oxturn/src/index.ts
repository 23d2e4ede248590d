/**
 * Oxturn plans the loops of water underfloor heating: it reads a floor, routes every pipe, judges and draws the result.
 *
 * Coordinates and small dimensions are millimetres, loop lengths metres. Everything that goes in or comes out is plain
 * data, which `structuredClone` and `JSON.stringify` keep. Nothing here touches files, clocks or the DOM, so it runs
 * alike in Node, in a page and in a worker.
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
	type RouteOptions,
	type RouteProgress,
	routeMemory,
} from "@oxturn/routing";
export { type DistanceMapOptions, distanceMap, type RoomDistances } from "./distanceMap.ts";
export { type LayoutFigures, layoutFigures } from "./layoutFigures.ts";
export { compareRoutes, routeFloor } from "./route.ts";
