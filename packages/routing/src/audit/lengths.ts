import type { AuditFinding } from "../types.ts";
import { LENGTH_FACTOR, STATED_LENGTH_SHARE } from "./limits.ts";
import type { Trace } from "./trace.ts";

/** Every loop is no longer than `maxLoopLength` (m) from port to port, and says how long it is. */
export function findLengthFaults(maxLoopLength: number, traces: readonly Trace[]): AuditFinding[] {
	const findings: AuditFinding[] = [];
	for (const { id, length, statedLength, x, y } of traces) {
		const metres = length / 1000;
		const at = [x[0]!, y[0]!] as const;
		const fault = (message: string, value: number | undefined, limit: number): void => {
			findings.push({ rule: "length", message, subjects: [id], at, limit, ...(value === undefined ? {} : { value }) });
		};
		if (metres > maxLoopLength * LENGTH_FACTOR)
			fault(`Loop "${id}" is ${metres.toFixed(2)} m long, at most ${maxLoopLength} m allowed.`, metres, maxLoopLength);
		if (statedLength === undefined)
			fault(`Loop "${id}" does not state its length, measured ${metres.toFixed(2)} m.`, undefined, metres);
		else if (Math.abs(statedLength - metres) > STATED_LENGTH_SHARE * metres)
			fault(`Loop "${id}" states ${statedLength} m, measured ${metres.toFixed(2)} m.`, statedLength, metres);
	}
	return findings;
}
