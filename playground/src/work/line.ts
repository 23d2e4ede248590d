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

	const take = ({ data }: MessageEvent<JobReply>): void => {
		if (!waiting || data.call !== waiting.call) return;
		if ("fraction" in data) {
			waiting.tell?.(data.fraction);
			return;
		}
		const { resolve, reject } = waiting;
		waiting = undefined;
		if ("answer" in data) resolve(data.answer);
		else reject(new Error(data.failure));
	};

	const start = (): Worker => {
		const fresh = new Worker(new URL("./worker.ts", import.meta.url), { type: "module" });
		fresh.addEventListener("message", take);
		// a worker that fails to load answers no call: without this the page would wait for ever
		fresh.addEventListener("error", (event) => {
			if (fresh !== worker) return;
			worker = undefined;
			const failed = waiting;
			waiting = undefined;
			failed?.reject(new Error(event.message || "The part of the page that computes could not be loaded."));
		});
		return fresh;
	};

	const warm = (): void => {
		worker ??= start();
	};

	const run = <N extends JobName>(job: N, input: JobInput<N>, tell?: Tell): Promise<JobAnswer<N>> => {
		stop();
		worker ??= start();
		const call = ++calls;
		const message: JobCall = { call, job, input };
		return new Promise<JobAnswer<N>>((resolve, reject) => {
			waiting = { call, resolve: (answer) => resolve(answer as JobAnswer<N>), reject, tell };
			worker?.postMessage(message);
		});
	};

	return { run, stop, warm, close };
}
