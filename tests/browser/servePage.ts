import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { extname, resolve, sep } from "node:path";

const CONTENT_TYPES: Readonly<Record<string, string>> = {
	".css": "text/css; charset=utf-8",
	".html": "text/html; charset=utf-8",
	".js": "text/javascript; charset=utf-8",
	".json": "application/json; charset=utf-8",
	".svg": "image/svg+xml",
};

export interface ServedPage {
	readonly url: string;
	readonly stop: () => Promise<void>;
}

/** Serves the files in `folder` on this machine alone, at a free port. */
export async function servePage(folder: string): Promise<ServedPage> {
	const root = resolve(folder);
	const server = createServer(async (request, response) => {
		const { pathname } = new URL(request.url ?? "/", "http://127.0.0.1");
		const file = resolve(root, `.${pathname === "/" ? "/index.html" : decodeURIComponent(pathname)}`);
		const contentType = CONTENT_TYPES[extname(file)];
		try {
			if (!file.startsWith(root + sep) || contentType === undefined) throw new Error("not one of the page's files");
			const body = await readFile(file);
			response.writeHead(200, { "content-type": contentType, "x-content-type-options": "nosniff" }).end(body);
		} catch {
			response.writeHead(404).end();
		}
	});
	await new Promise<void>((listening) => server.listen(0, "127.0.0.1", listening));
	const { port } = server.address() as AddressInfo;
	return {
		url: `http://127.0.0.1:${port}/`,
		stop: () => new Promise((stopped) => server.close(() => stopped())),
	};
}
