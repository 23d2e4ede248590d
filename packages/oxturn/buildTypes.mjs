// Writes the declarations that a user of the package can reach to dist/types. They stand alone: imports of the
// workspace's packages become relative, and what nobody outside can reach is left out.
import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";

const here = dirname(fileURLToPath(import.meta.url));
const packages = dirname(here);
const types = join(here, "dist/types");

const config = ts.getParsedCommandLineOfConfigFile(
	join(packages, "../tsconfig.json"),
	{
		noEmit: false,
		declaration: true,
		emitDeclarationOnly: true,
		// found through node_modules they would count as somebody else's, for which nothing is emitted
		paths: { "@oxturn/*": [join(packages, "*/src/index.ts")] },
	},
	{ ...ts.sys, onUnRecoverableConfigFileDiagnostic: fail },
);
const door = join(here, "src/index.ts");
const program = ts.createProgram([door], config.options);

function fail(...diagnostics) {
	const host = { getCurrentDirectory: () => packages, getCanonicalFileName: (name) => name, getNewLine: () => "\n" };
	throw new Error(ts.formatDiagnostics(diagnostics, host));
}

function declarationsOf(file) {
	const source = program.getSourceFile(file);
	const diagnostics = program.getDeclarationDiagnostics(source);
	if (diagnostics.length > 0) fail(...diagnostics);
	let text = "";
	program.emit(source, (_, written) => (text = written), undefined, true);
	if (text === "") throw new Error(`${file}: no declarations were emitted.`);
	return text;
}

/** The file that `specifier` means in `file`. */
function resolve(specifier, file) {
	const [, name] = /^@oxturn\/(\w+)$/.exec(specifier) ?? [];
	if (name !== undefined) return join(packages, name, "src/index.ts");
	if (!specifier.startsWith(".")) throw new Error(`${file}: users would need "${specifier}" for its types.`);
	return join(dirname(file), specifier);
}

rmSync(types, { recursive: true, force: true });
const reached = new Set([door]);
for (const file of reached) {
	const text = declarationsOf(file).replace(/ from "([^"]+)"/g, (_, specifier) => {
		const target = resolve(specifier, file);
		reached.add(target);
		const path = relative(dirname(file), target).replace(/\.ts$/, ".js");
		return ` from "${path.startsWith(".") ? path : `./${path}`}"`;
	});
	const written = join(types, relative(packages, file).replace(/\.ts$/, ".d.ts"));
	mkdirSync(dirname(written), { recursive: true });
	writeFileSync(written, text);
}
