import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, resolve } from "node:path";
import { FloorError, type Layout, LayoutError, type ReadFloor, readFloorText, readLayoutText } from "../index.ts";
import { Failure, printable } from "./failure.ts";
import type { Terminal } from "./terminal.ts";

/** Where relative paths start. */
type Place = Pick<Terminal, "directory">;

const reasons: Readonly<Record<string, string>> = {
	ENOENT: "there is no such file or folder; look for a slip in its name",
	EISDIR: "this is a folder, expected a file",
	ENOTDIR: "a part of this path is a file, expected a folder",
	EEXIST: "a part of this path is a file, expected a folder",
	EACCES: "permission denied",
	EPERM: "permission denied",
	EROFS: "the disk is read-only",
	ENOSPC: "the disk is full",
};

/** Runs `act`; what the file system refuses becomes a `Failure` that names the file as the caller wrote it. */
export function onFile<Result>(file: string, act: () => Result): Result {
	try {
		return act();
	} catch (error) {
		if (!(error instanceof Error && "code" in error && "syscall" in error)) throw error;
		throw new Failure(`${printable(file)}: ${reasons[String(error.code)] ?? error.message}.`);
	}
}

/** One line for each problem, with the file's name before it. */
function onDocument<Result>(file: string, act: () => Result): Result {
	try {
		return act();
	} catch (error) {
		if (!(error instanceof FloorError || error instanceof LayoutError)) throw error;
		const lines = error.problems.map(
			({ subject, member, message }) =>
				`${file}: ${subject}${member === "" || member === subject ? "" : `, ${member}`}: ${message}`,
		);
		throw new Failure(...lines.map(printable));
	}
}

/** Reads a floor document from `file`. */
export function readFloorFile(file: string, { directory }: Place): ReadFloor {
	const text = onFile(file, () => readFileSync(resolve(directory, file), "utf8"));
	return onDocument(file, () => readFloorText(text));
}

/** Reads a layout document from `file`. */
export function readLayoutFile(file: string, { directory }: Place): Layout {
	const text = onFile(file, () => readFileSync(resolve(directory, file), "utf8"));
	return onDocument(file, () => readLayoutText(text));
}

/** Makes a folder, with those above it, where there is none. */
export function makeFolder(folder: string, { directory }: Place): void {
	onFile(folder, () => mkdirSync(resolve(directory, folder), { recursive: true }));
}

/** Writes `text` to `file`, making the folders above it. */
export function writeFile(file: string, text: string, { directory }: Place): void {
	const path = resolve(directory, file);
	onFile(file, () => {
		mkdirSync(dirname(path), { recursive: true });
		writeFileSync(path, text);
	});
}
