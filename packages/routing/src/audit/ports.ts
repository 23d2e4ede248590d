import type { Manifold } from "@oxturn/floor";
import type { AuditFinding } from "../types.ts";
import { PORT_APART, PORT_REACH } from "./limits.ts";
import { placeText } from "./plan.ts";
import type { Trace } from "./trace.ts";

interface End {
	readonly trace: Trace;
	readonly x: number;
	readonly y: number;
	readonly distance: number;
	readonly name: string;
}

/**
 * Every loop starts and ends at its manifold, apart from every other end, on a port of its own,
 * and no manifold takes more loops than it has ports. A loop that names no manifold is held to the nearest.
 */
export function findPortFaults(manifolds: readonly Manifold[], traces: readonly Trace[]): AuditFinding[] {
	const findings: AuditFinding[] = [];
	const ends: End[] = [];
	for (const trace of traces) {
		const named = manifolds.filter(({ id }) => id === trace.manifold);
		if (trace.manifold !== undefined && named.length === 0)
			findings.push({
				rule: "port",
				message: `Loop "${trace.id}" names manifold "${trace.manifold}", which the floor lacks.`,
				subjects: [trace.id, trace.manifold],
				at: [trace.x[0]!, trace.y[0]!],
			});
		for (const [name, i] of [["flow", 0] as const, ["return", trace.x.length - 1] as const]) {
			const x = trace.x[i]!;
			const y = trace.y[i]!;
			let distance = Infinity;
			for (const { position } of named.length > 0 ? named : manifolds)
				distance = Math.min(distance, Math.hypot(position[0] - x, position[1] - y));
			ends.push({ trace, x, y, distance, name });
		}
	}
	for (const { trace, x, y, distance, name } of ends)
		if (distance > PORT_REACH)
			findings.push({
				rule: "port",
				message: `The ${name} end of loop "${trace.id}" at ${placeText(x, y)} is ${distance.toFixed(0)} mm from its manifold, at most ${PORT_REACH} mm allowed.`,
				subjects: [trace.id],
				at: [x, y],
				value: distance,
				limit: PORT_REACH,
			});
	return [...findings, ...crowdedEnds(ends), ...portMisuse(manifolds, traces)];
}

function crowdedEnds(ends: readonly End[]): AuditFinding[] {
	const findings: AuditFinding[] = [];
	ends.forEach((a, i) => {
		for (const b of ends.slice(i + 1)) {
			const gap = Math.hypot(a.x - b.x, a.y - b.y);
			if (gap >= PORT_APART) continue;
			const whose = a.trace === b.trace ? `loop "${a.trace.id}"` : `loops "${a.trace.id}" and "${b.trace.id}"`;
			findings.push({
				rule: "port",
				message: `Ends of ${whose} at ${placeText(a.x, a.y)} are ${gap.toFixed(1)} mm apart, at least ${PORT_APART} mm needed.`,
				subjects: a.trace === b.trace ? [a.trace.id] : [a.trace.id, b.trace.id],
				at: [a.x, a.y],
				value: gap,
				limit: PORT_APART,
			});
		}
	});
	return findings;
}

function portMisuse(manifolds: readonly Manifold[], traces: readonly Trace[]): AuditFinding[] {
	const findings: AuditFinding[] = [];
	for (const { id, ports } of manifolds) {
		const loops = traces.filter((trace) => trace.manifold === id);
		if (ports !== undefined && loops.length > ports)
			findings.push({
				rule: "port",
				message: `Manifold "${id}" has ${ports === 1 ? "1 port" : `${ports} ports`}, ${loops.length} loops start there.`,
				subjects: [id],
				value: loops.length,
				limit: ports,
			});
		const owner = new Map<number, Trace>();
		for (const loop of loops) {
			if (loop.port === undefined) continue;
			const first = owner.get(loop.port);
			if (first)
				findings.push({
					rule: "port",
					message: `Loops "${first.id}" and "${loop.id}" both use port ${loop.port} of manifold "${id}".`,
					subjects: [first.id, loop.id],
					at: [loop.x[0]!, loop.y[0]!],
				});
			else owner.set(loop.port, loop);
		}
	}
	return findings;
}
