import type { JobAnswer, JobCall, JobInput, JobName, JobReply, Tell } from "./jobs.ts";

/** One worker and at most one job in it. */
export interface Line {
	/** Starts a job; rejects when it fails. A job that is stopped never settles. */
	readonly run: <N extends JobName>(job: N, input: JobInput<N>, tell?: Tell) => Promise<JobAnswer<N>>;
	/** Ends the job in hand, if any; the next one gets a fresh worker. */
	readonly stop: () => void;
	/** Loads the worker before it is needed. */
	readonly warm: () => void;
	/** Ends the worker, busy or not; the next job would get a fresh one. */
	readonly close: () => void;
}

/** A call that has not been answered yet. */
interface Waiting {
	readonly call: number;
	readonly resolve: (answer: unknown) => void;
	readonly reject: (reason: Error) => void;
	readonly tell: Tell | undefined;
}

/** Opens a line to a worker. A worker that computes cannot be asked to stop, so stopping ends it. */
export function openLine(): Line {
	let worker: Worker | undefined;
	let waiting: Waiting | undefined;
	let calls = 0;

	const close = (): void => {
		worker?.terminate();
		worker = undefined;
		waiting = undefined;
	};
	const stop = (): void => {
		if (waiting) close();
	};
	const take = (reply: JobReply): void => {
		if (reply.call !== waiting?.call) return;
		const asked = waiting;
		if (!("fraction" in reply)) waiting = undefined;
		passOn(reply, asked);
	};
	const lose = (lost: Worker, reason: Error): void => {
		if (lost !== worker) return;
		const asked = waiting;
		worker = undefined;
		waiting = undefined;
		asked?.reject(reason);
	};
	const warm = (): void => {
		worker ??= loadWorker(take, lose);
	};
	const run = <N extends JobName>(job: N, input: JobInput<N>, tell?: Tell): Promise<JobAnswer<N>> => {
		stop();
		warm();
		const call = ++calls;
		const message: JobCall = { call, job, input };
		return new Promise<JobAnswer<N>>((resolve, reject) => {
			waiting = { call, resolve: (answer) => resolve(answer as JobAnswer<N>), reject, tell };
			worker?.postMessage(message);
		});
	};

	return { run, stop, warm, close };
}

/** Tells whoever asked what the worker says. */
function passOn(reply: JobReply, { resolve, reject, tell }: Waiting): void {
	if ("fraction" in reply) tell?.(reply.fraction);
	else if ("answer" in reply) resolve(reply.answer);
	else reject(new Error(reply.failure));
}

/** Loads a worker; one that breaks, or does not load, is lost. */
function loadWorker(onReply: (reply: JobReply) => void, onLoss: (lost: Worker, reason: Error) => void): Worker {
	const worker = new Worker(new URL("./worker.ts", import.meta.url), { type: "module" });
	worker.addEventListener("message", ({ data }: MessageEvent<JobReply>) => onReply(data));
	// a worker that fails to load answers no call: without this the page would wait for ever
	worker.addEventListener("error", ({ message }) =>
		onLoss(worker, new Error(message || "The part of the page that computes could not be loaded.")),
	);
	return worker;
}
