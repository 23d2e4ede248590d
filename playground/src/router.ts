import { type Remote, wrap } from "comlink";
import type { Answer, RouteRequest } from "./routeTypes.ts";
import type { RouteApi } from "./routeWorker.ts";

export interface Router {
	/** Starts a run; one that is still busy is given up, since nobody waits for its answer any more. */
	readonly route: (request: RouteRequest) => void;
}

/** Keeps one worker for routing. `onAnswer` is called with what it finds, or with what went wrong. */
export function startRouter(onAnswer: (answer: Answer) => void): Router {
	// one remote for the life of its worker: letting go of a remote closes the worker's door
	let line: { readonly worker: Worker; readonly remote: Remote<RouteApi> } | undefined;
	let pending: number | undefined;

	const settle = (answer: Answer): void => {
		if (answer.run === pending) pending = undefined;
		onAnswer(answer);
	};

	const stop = (): void => {
		line?.worker.terminate();
		line = undefined;
		pending = undefined;
	};

	const start = (): NonNullable<typeof line> => {
		const worker = new Worker(new URL("./routeWorker.ts", import.meta.url), { type: "module" });
		// a worker that fails to load answers no call: without this the page would wait for ever
		worker.addEventListener("error", (event) => {
			if (worker !== line?.worker || pending === undefined) return;
			const run = pending;
			stop();
			onAnswer({ run, problem: event.message || "The part of the page that routes could not be loaded." });
		});
		return { worker, remote: wrap<RouteApi>(worker) };
	};

	const route = (request: RouteRequest): void => {
		if (pending !== undefined) stop();
		line ??= start();
		pending = request.run;
		line.remote.route(request).then(settle, (error: unknown) => settle({ run: request.run, problem: String(error) }));
	};

	return { route };
}
