export { type FloorDocument, type FloorFeature, type FloorPolygon, floorToGeoJson } from "./floorToGeoJson.ts";
export { layoutToJson } from "./layoutToJson.ts";
export { type FloorNoticeCode, floorNoticeCodes } from "./notices.ts";
export { FloorError, LayoutError, type Problem } from "./problems.ts";
export { type ReadFloor, readFloor, readFloorText } from "./readFloor.ts";
export { readLayout, readLayoutText } from "./readLayout.ts";
export type * from "./types.ts";
