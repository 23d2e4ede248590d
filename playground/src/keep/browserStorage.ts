/** What the browser kept under `key`; `undefined` when it kept nothing or is not allowed to. */
export function keptText(key: string): string | undefined {
	try {
		return localStorage.getItem(key) ?? undefined;
	} catch {
		return undefined;
	}
}

/** Keeps `text` under `key`; tells whether the browser did: it may be forbidden to, or full. */
export function keepText(key: string, text: string): boolean {
	try {
		localStorage.setItem(key, text);
		return true;
	} catch {
		return false;
	}
}

export function dropText(key: string): void {
	try {
		localStorage.removeItem(key);
	} catch {
		// nothing is kept where nothing may be kept
	}
}
