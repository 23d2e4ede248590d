/** What is kept of a picture under the drawing; plain data, read back as unknown. */
const DATABASE = "oxturn";
const STORE = "pictures";
/** There is one picture at a time. */
const KEY = "underlay";

/** The picture that the browser kept; `undefined` when it kept none or is not allowed to. */
export async function keptPicture(): Promise<unknown> {
	try {
		return await inStore("readonly", (store) => store.get(KEY));
	} catch {
		return undefined;
	}
}

/** Keeps a picture in the place of the last one, or none; tells whether the browser did. */
export async function keepPicture(picture: object | undefined): Promise<boolean> {
	try {
		await inStore("readwrite", (store) => (picture === undefined ? store.delete(KEY) : store.put(picture, KEY)));
		return true;
	} catch {
		return false;
	}
}

/** Pictures are far larger than what `localStorage` takes, so they have a database of their own. */
async function inStore(mode: IDBTransactionMode, ask: (store: IDBObjectStore) => IDBRequest): Promise<unknown> {
	const opening = indexedDB.open(DATABASE, 1);
	opening.onupgradeneeded = () => opening.result.createObjectStore(STORE);
	const database = await answerOf(opening);
	try {
		const transaction = database.transaction(STORE, mode);
		const done = new Promise<void>((resolve, reject) => {
			transaction.oncomplete = () => resolve();
			// a full disk ends the transaction, not the request
			transaction.onabort = () => reject(transaction.error);
		});
		const [answer] = await Promise.all([answerOf(ask(transaction.objectStore(STORE))), done]);
		return answer;
	} finally {
		database.close();
	}
}

function answerOf<T>(request: IDBRequest<T>): Promise<T> {
	return new Promise((resolve, reject) => {
		request.onsuccess = () => resolve(request.result);
		request.onerror = () => reject(request.error);
	});
}
