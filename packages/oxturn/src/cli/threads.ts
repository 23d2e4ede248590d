import { parentPort, Worker } from "node:worker_threads";

export interface Work<Task, Result> {
	/** In the order in which they are begun. */
	readonly tasks: readonly Task[];
	/** Does one task in this thread. */
	readonly act: (task: Task) => Result;
	/** What comes of a task whose thread died over it. */
	readonly lost: (task: Task, reason: string) => Result;
	readonly begun: (task: Task) => void;
	readonly done: (task: Task, result: Result) => void;
}

/**
 * Does all tasks, so many at once as `count` says, each in a worker thread that runs `program` and there `answer`.
 * Without `program` they are done in this thread, and so is what no thread can be started for.
 */
export async function inThreads<Task, Result>(
	{ tasks, act, lost, begun, done }: Work<Task, Result>,
	count: number,
	program: URL | undefined,
): Promise<void> {
	const waiting = tasks.values();
	// each lane takes the next task as soon as it is free; one whose thread died goes on with another
	const lane = async (): Promise<void> => {
		let thread: Thread<Task, Result> | undefined;
		for (const task of waiting) {
			begun(task);
			thread ??= program && startThread(program);
			const outcome: Outcome<Result> = thread ? await thread.ask(task) : { result: act(task) };
			if ("death" in outcome) thread = undefined;
			done(task, "death" in outcome ? lost(task, outcome.death) : outcome.result);
		}
		await thread?.end();
	};
	await Promise.all(Array.from({ length: count }, lane));
}

/** The other end, in a worker thread: does with `act` each task that is sent. */
export function answer<Task, Result>(act: (task: Task) => Result): void {
	parentPort?.on("message", (task: Task) => parentPort?.postMessage(act(task)));
}

type Outcome<Result> = { readonly result: Result } | { readonly death: string };

interface Thread<Task, Result> {
	readonly ask: (task: Task) => Promise<Outcome<Result>>;
	readonly end: () => Promise<unknown>;
}

/** Starts a thread; `undefined` where the machine has none to give. */
function startThread<Task, Result>(program: URL): Thread<Task, Result> | undefined {
	let worker: Worker;
	try {
		worker = new Worker(program);
	} catch {
		return undefined;
	}
	const death = new Promise<Outcome<Result>>((resolve) => {
		worker.on("error", (error) => resolve({ death: error.message }));
		worker.on("exit", (code) => resolve({ death: `its thread ended with status ${code}` }));
	});
	const ask = (task: Task): Promise<Outcome<Result>> => {
		const result = new Promise<Outcome<Result>>((resolve) => {
			worker.once("message", (result: Result) => resolve({ result }));
		});
		worker.postMessage(task);
		return Promise.race([result, death]);
	};
	return { ask, end: () => worker.terminate() };
}
