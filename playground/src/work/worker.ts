import { type JobCall, type JobReply, jobs, type Tell } from "./jobs.ts";

const reply = (message: JobReply): void => postMessage(message);

addEventListener("message", ({ data }: MessageEvent<JobCall>) => {
	const { call, job, input } = data;
	const tell: Tell = (fraction) => reply({ call, fraction });
	try {
		// the page's side of the line pairs each job with its own input
		const work = jobs[job] as (input: unknown, tell: Tell) => unknown;
		reply({ call, answer: work(input, tell) });
	} catch (error) {
		reply({ call, failure: error instanceof Error ? error.message : String(error) });
	}
});
