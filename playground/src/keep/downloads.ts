import type { Draft } from "../document/draft.ts";
import type { Texts } from "../text/catalogue.ts";
import type { Routed } from "../work/jobs/route.ts";
import type { JobAnswer, JobInput, JobName } from "../work/jobs.ts";
import { openLine } from "../work/line.ts";

/** What a file can be made from: the floor as drawn, and its last finished layout, if there is one. */
export interface DownloadSource {
	readonly draft: Draft;
	readonly routed: Routed | undefined;
}

/** A kind of file that the page can save. */
export interface DownloadFormat {
	/** Its name is in the catalogue, under `keep.formats`. */
	readonly id: keyof Texts["keep"]["formats"];
	/** The end of the file's name, its dot included. */
	readonly ending: string;
	readonly mediaType: string;
	/** The file's content; `undefined` when it takes a layout and there is none yet. */
	readonly make: (source: DownloadSource) => Promise<BlobPart | undefined>;
}

/** The kinds of files, in the order in which they are offered. A new one is a line here and its name. */
export const downloadFormats: readonly DownloadFormat[] = [
	{
		id: "floor",
		ending: ".floor.json",
		mediaType: "application/json",
		make: async ({ draft }) => `${JSON.stringify(draft, undefined, "\t")}\n`,
	},
	{
		id: "layout",
		ending: ".layout.json",
		mediaType: "application/json",
		make: async ({ routed }) => routed && inWorker("writeLayout", routed.layout),
	},
	{
		id: "svg",
		ending: ".svg",
		mediaType: "image/svg+xml",
		make: async ({ routed }) => routed && inWorker("draw", { floor: routed.floor, layout: routed.layout }),
	},
];

/** Files are made by the library, beside the page, in a worker of their own that ends with the job. */
async function inWorker<N extends JobName>(job: N, input: JobInput<N>): Promise<JobAnswer<N>> {
	const line = openLine();
	try {
		return await line.run(job, input);
	} finally {
		line.close();
	}
}

/** A file name out of a floor's name: letters and digits of any language, the rest as hyphens. */
export function fileName(floorName: string, ending: string): string {
	const stem = floorName
		.normalize("NFC")
		.toLowerCase()
		.replaceAll(/[^\p{L}\p{N}]+/gu, "-")
		.replaceAll(/^-+|-+$/g, "")
		.slice(0, 60);
	return `${stem === "" ? "floor" : stem}${ending}`;
}

/** Lets the browser save `content`. */
export function saveFile(name: string, mediaType: string, content: BlobPart): void {
	const url = URL.createObjectURL(new Blob([content], { type: mediaType }));
	const link = document.createElement("a");
	link.href = url;
	link.download = name;
	link.click();
	// the browser may take the address up only after the click
	setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
