import type { PatternName } from "oxturn";
import {
	type Draft,
	featureOf,
	isKeepout,
	isManifold,
	isRoom,
	type SystemDraft,
	withFeature,
} from "../document/draft.ts";

export function renameFloor(draft: Draft, name: string): Draft {
	return { ...draft, name };
}

export function renameFeature(draft: Draft, id: string, name: string): Draft {
	const feature = featureOf(draft, id);
	if (!feature) return draft;
	if (isRoom(feature)) return withFeature(draft, { ...feature, properties: { ...feature.properties, name } });
	if (isKeepout(feature)) return withFeature(draft, { ...feature, properties: { ...feature.properties, name } });
	return draft;
}

/** What a floor's system says in one number; the pipe's measures are asked for by name like the others. */
export type SystemNumber =
	| "spacing"
	| "edgeDistance"
	| "tailSpacing"
	| "maxLoopLength"
	| "outerDiameter"
	| "wallThickness"
	| "minBendRadius";

const PIPE_NUMBERS = ["outerDiameter", "wallThickness", "minBendRadius"] as const;
type PipeNumber = (typeof PIPE_NUMBERS)[number];

const isOfPipe = (name: SystemNumber): name is PipeNumber => PIPE_NUMBERS.some((own) => own === name);

/** The number as the draft states it; `undefined` when it is left to the default. */
export function systemNumber({ system }: Draft, name: SystemNumber): number | undefined {
	return isOfPipe(name) ? system.pipe?.[name] : system[name];
}

function without<T extends object, K extends keyof T>(from: T, key: K): Omit<T, K> {
	const { [key]: _dropped, ...rest } = from;
	return rest;
}

/** Sets a number of the floor's system; `undefined` gives it back to the default. */
export function setSystemNumber(draft: Draft, name: SystemNumber, value: number | undefined): Draft {
	const { system } = draft;
	if (!isOfPipe(name)) {
		const next: SystemDraft = value === undefined ? without(system, name) : { ...system, [name]: value };
		return { ...draft, system: next };
	}
	const pipe = system.pipe ?? {};
	return {
		...draft,
		system: { ...system, pipe: value === undefined ? without(pipe, name) : { ...pipe, [name]: value } },
	};
}

type Stated<T> = { [K in keyof T]: Exclude<T[K], undefined> };

/** The members that say something: documents leave out what they do not state. */
function stated<T extends object>(members: T): Stated<T> {
	return Object.fromEntries(Object.entries(members).filter(([, value]) => value !== undefined)) as Stated<T>;
}

/** Sets what a room has for itself; `undefined` leaves it to the floor. */
export function setRoom(
	draft: Draft,
	id: string,
	change: {
		readonly spacing?: number | undefined;
		readonly pattern?: PatternName | undefined;
		readonly heated?: boolean;
		readonly share?: boolean | undefined;
	},
): Draft {
	const feature = featureOf(draft, id);
	if (!feature || !isRoom(feature)) return draft;
	return withFeature(draft, { ...feature, properties: stated({ ...feature.properties, ...change }) });
}

/** Sets the pattern of the whole floor: no room keeps one of its own. */
export function setPattern(draft: Draft, pattern: PatternName): Draft {
	return {
		...draft,
		features: draft.features.map((feature) =>
			isRoom(feature) ? { ...feature, properties: { ...feature.properties, pattern } } : feature,
		),
	};
}

/** Sets how far apart a manifold's ports are (mm) and how many loops it takes. */
export function setManifold(
	draft: Draft,
	id: string,
	change: { readonly portPitch?: number | undefined; readonly ports?: number | undefined; readonly facing?: number },
): Draft {
	const feature = featureOf(draft, id);
	if (!feature || !isManifold(feature)) return draft;
	return withFeature(draft, { ...feature, properties: stated({ ...feature.properties, ...change }) });
}
