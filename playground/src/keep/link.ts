import type { Draft } from "../document/draft.ts";

/** The name of the floor's member in a link's fragment. */
const MEMBER = "floor=";
/** A link longer than this is no floor that anybody drew, characters. */
export const LONGEST_LINK = 200_000;
/** What a link may unpack to, bytes: a few kilobytes of it can hide gigabytes. */
export const LARGEST_FLOOR = 2_000_000;

/** What a fragment holds. */
export type LinkReading =
	| { readonly kind: "none" }
	| { readonly kind: "floor"; readonly text: string }
	| { readonly kind: "refused" }
	| { readonly kind: "too-large" };

function toBase64Url(bytes: Uint8Array): string {
	let binary = "";
	for (const byte of bytes) binary += String.fromCharCode(byte);
	return btoa(binary).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

function fromBase64Url(text: string): Uint8Array<ArrayBuffer> {
	const binary = atob(text.replaceAll("-", "+").replaceAll("_", "/"));
	return Uint8Array.from(binary, (character) => character.charCodeAt(0));
}

/** The fragment that carries a whole floor, compressed (raw deflate, base64url): `#floor=…`. */
export async function linkFragment(draft: Draft): Promise<string> {
	const packed = new Blob([JSON.stringify(draft)]).stream().pipeThrough(new CompressionStream("deflate-raw"));
	return `#${MEMBER}${toBase64Url(new Uint8Array(await new Response(packed).arrayBuffer()))}`;
}

/** Unpacks a fragment, whoever made it: nothing is believed of it, and it never grows beyond `LARGEST_FLOOR`. */
export async function readFragment(fragment: string): Promise<LinkReading> {
	const start = fragment.indexOf(MEMBER);
	if (start === -1) return { kind: "none" };
	const packed = fragment.slice(start + MEMBER.length);
	if (packed.length > LONGEST_LINK) return { kind: "too-large" };
	try {
		const stream = new Blob([fromBase64Url(packed)]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
		return await readUpTo(stream.getReader(), LARGEST_FLOOR);
	} catch {
		return { kind: "refused" };
	}
}

async function readUpTo(reader: ReadableStreamDefaultReader<Uint8Array>, most: number): Promise<LinkReading> {
	const decoder = new TextDecoder("utf-8", { fatal: true });
	let text = "";
	let size = 0;
	for (;;) {
		const { done, value } = await reader.read();
		if (done) return { kind: "floor", text: text + decoder.decode() };
		size += value.length;
		if (size > most) {
			await reader.cancel();
			return { kind: "too-large" };
		}
		text += decoder.decode(value, { stream: true });
	}
}
