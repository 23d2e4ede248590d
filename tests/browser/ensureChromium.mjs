// Prints the path of an installed Chromium or Chrome. On Debian and Ubuntu, as root, it installs the distribution's
// `chromium` package when there is none; elsewhere it says what to install.
import { spawnSync } from "node:child_process";
import { accessSync, constants, existsSync } from "node:fs";
import { delimiter, join } from "node:path";

const NAMES = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome"];

const USUAL_PLACES = [
	"/usr/lib/chromium/chromium",
	"/usr/lib/chromium-browser/chromium-browser",
	"/opt/google/chrome/chrome",
	"/snap/bin/chromium",
	"/Applications/Chromium.app/Contents/MacOS/Chromium",
	"/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
	...[process.env.ProgramFiles, process.env["ProgramFiles(x86)"], process.env.LOCALAPPDATA]
		.filter((folder) => folder !== undefined)
		.flatMap((folder) => [
			join(folder, "Google/Chrome/Application/chrome.exe"),
			join(folder, "Chromium/Application/chrome.exe"),
		]),
];

function canRun(path) {
	try {
		accessSync(path, constants.X_OK);
		return true;
	} catch {
		return false;
	}
}

function findChromium() {
	const folders = (process.env.PATH ?? "").split(delimiter).filter((folder) => folder !== "");
	return [...folders.flatMap((folder) => NAMES.map((name) => join(folder, name))), ...USUAL_PLACES].find(canRun);
}

function aptGet(...words) {
	// its chatter goes to stderr: stdout carries the path and nothing else
	const { status } = spawnSync("apt-get", words, {
		stdio: ["ignore", process.stderr.fd, "inherit"],
		env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
	});
	return status === 0;
}

function installChromium() {
	const isDebian = existsSync("/etc/debian_version");
	if (!isDebian || process.getuid?.() !== 0) return undefined;
	aptGet("update");
	aptGet("install", "--yes", "--no-install-recommends", "chromium");
	return findChromium();
}

const path = findChromium() ?? installChromium();
if (path === undefined) {
	console.error(
		"The browser tests need Chromium or Chrome, and none was found. " +
			'On Debian or Ubuntu run "apt-get install chromium" as root; elsewhere install Chromium or Chrome ' +
			"and put it on the PATH.",
	);
	process.exit(1);
}
console.log(path);
