import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, expect } from "vitest";
import {
	type OpenOptions,
	type OpenPage,
	type Playground,
	routed,
	settled,
	startPlayground,
} from "./openPlayground.ts";
import { startEmpty } from "./steps.ts";

export interface Session {
	/** Opens the page and waits for its first plan. */
	readonly open: (options?: OpenOptions) => Promise<Page>;
	/** Opens the page and waits until nothing is being routed, plan or not. */
	readonly openAny: (options?: OpenOptions) => Promise<Page>;
	/** Opens the page on an empty floor, the tool for rooms in hand. */
	readonly openEmpty: (options?: OpenOptions) => Promise<Page>;
	readonly url: () => string;
}

/** One browser for a file of tests, a fresh page for each; no page may complain or ask another host for anything. */
export function browserSession(): Session {
	let playground: Playground | undefined;
	let opened: OpenPage | undefined;

	beforeAll(async () => {
		playground = await startPlayground();
	});

	afterAll(() => playground?.stop());

	afterEach(async () => {
		const { complaints = [], close } = opened ?? {};
		opened = undefined;
		await close?.();
		expect(complaints, "console errors and requests to other hosts").toEqual([]);
	});

	const openAny = async (options?: OpenOptions): Promise<Page> => {
		if (!playground) throw new Error("The playground has not been started.");
		opened = await playground.open({ viewport: { width: 1280, height: 800 }, ...options });
		await settled(opened.page);
		return opened.page;
	};

	const open = async (options?: OpenOptions): Promise<Page> => {
		const page = await openAny(options);
		await routed(page);
		return page;
	};

	return {
		openAny,
		open,
		openEmpty: async (options) => {
			const page = await open(options);
			await startEmpty(page);
			return page;
		},
		url: () => playground?.url ?? "",
	};
}
