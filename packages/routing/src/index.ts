export { auditLayout } from "./audit/auditLayout.ts";
export type * from "./types.ts";
