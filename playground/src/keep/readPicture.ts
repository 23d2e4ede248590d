import type { UnderlayPicture } from "../store/underlay.svelte.ts";

/** Larger pictures are drawn smaller, px along their longer side: they only lie under the drawing. */
const LARGEST_SIDE = 2400;
const LARGEST_FILE = 20_000_000;
const TYPES = ["image/png", "image/jpeg", "image/webp"];

/** Reads a picture file, as `data:` URL and size; `undefined` when it is none that the browser can show. */
export async function readPicture(file: File): Promise<Pick<UnderlayPicture, "href" | "width" | "height"> | undefined> {
	if (!TYPES.includes(file.type) || file.size > LARGEST_FILE) return undefined;
	try {
		const bitmap = await createImageBitmap(file);
		const shrink = Math.min(1, LARGEST_SIDE / Math.max(bitmap.width, bitmap.height));
		const canvas = document.createElement("canvas");
		canvas.width = Math.max(1, Math.round(bitmap.width * shrink));
		canvas.height = Math.max(1, Math.round(bitmap.height * shrink));
		// drawn anew, so that nothing of the file but its pixels reaches the page
		canvas.getContext("2d")?.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
		bitmap.close();
		return { href: canvas.toDataURL("image/webp", 0.9), width: canvas.width, height: canvas.height };
	} catch {
		return undefined;
	}
}
