// Puts the JSON Schemas of both documents into the package, where "oxturn/schema/..." finds them.
import { cpSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
cpSync(join(here, "../floor/schema"), join(here, "dist/schema"), { recursive: true });
