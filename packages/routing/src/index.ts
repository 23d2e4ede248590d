export { type AuditOptions, auditLayout } from "./audit/auditLayout.ts";
export { type CompareOptions, compareRoutes, countBends, type RouteComparison } from "./compareRoutes.ts";
export { RouteError, type RouteErrorCode, throwIfAborted } from "./errors.ts";
export { type RouteMemory, routeMemory } from "./memory.ts";
export { type RouteNoticeCode, routeNoticeCodes } from "./notices/codes.ts";
export { type ManifoldPlace, type PlaceManifoldOptions, placeManifold } from "./placeManifold.ts";
export { routeFloor } from "./routeFloor.ts";
export type * from "./types.ts";
