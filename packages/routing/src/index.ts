export { auditLayout } from "./audit/auditLayout.ts";
export type * from "./types.ts";
export { routeFloor } from "./routeFloor.ts";
