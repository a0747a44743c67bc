import { mkdir, mkdtemp, realpath, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { cruise, type ICruiseResult } from "dependency-cruiser";
import extractDepcruiseOptions from "dependency-cruiser/config-utl/extract-depcruise-options";
import { afterAll, describe, expect, it } from "vitest";

const rules = fileURLToPath(new URL("../../.dependency-cruiser.cjs", import.meta.url));

// One small tree with an offence against every rule, and with what each rule allows beside it.
const files: Record<string, string> = {
  "src/core/pure.ts": 'import type { Length } from "./length.js";\nexport type { Length };',
  "src/core/length.ts": "export type Length = number;",
  "src/core/reads-file.ts": 'import { readFile } from "node:fs/promises";\nexport { readFile };',
  "src/core/uses-package.ts": 'import { z } from "zod";\nexport { z };',
  "src/core/knows-db.ts": 'import type { Db } from "../db/client.js";\nexport type { Db };',
  "src/db/client.ts": 'import type { Kysely } from "kysely";\nexport type Db = Kysely;',
  "src/db/knows-resource.ts": 'import { tool } from "../resources/tools/queries.js";\nexport { tool };',
  "src/http/problem.ts": 'import { z } from "zod";\nexport const problem = z;',
  "src/http/knows-resource.ts": 'import { tool } from "../resources/tools/queries.js";\nexport { tool };',
  "src/decision/queries.ts": 'import { sql } from "kysely";\nexport { sql };',
  "src/decision/knows-resource.ts": 'import { tool } from "../resources/tools/queries.js";\nexport { tool };',
  "src/resources/tools/queries.ts": 'import { sql } from "kysely";\nexport const tool = sql;',
  "src/resources/tools/routes.ts":
    'import { tool } from "./queries.js";\nimport { problem } from "../../http/problem.js";\nexport default [tool, problem];',
  "src/resources/parts/routes.ts": 'import { tool } from "../tools/queries.js";\nexport { tool };',
  "src/resources/parts/schemas.ts": 'import type { Pool } from "pg";\nexport type { Pool };',
  "src/resources/parts/queries.ts":
    'import { problem } from "../../http/problem.js";\nimport { z } from "zod";\nexport { problem, z };',
  "src/import/knows-db.ts": 'import type { Db } from "../db/client.js";\nexport type { Db };',
  "src/import/counts.ts": 'import type { Length } from "../core/length.js";\nexport type { Length };',
  "src/uploader/knows-import.ts":
    'import type { Length } from "../import/counts.js";\nexport type { Length };',
  "src/uploader/counts.ts": 'import type { Length } from "../core/length.js";\nexport type { Length };',
  "src/demo/one.ts": 'import { two } from "./two.js";\nexport const one = () => two;',
  "src/demo/two.ts": 'import { one } from "./one.js";\nexport const two = () => one;',
  "src/demo/lost.ts": 'import { nothing } from "./nowhere.js";\nexport { nothing };',
};
for (const name of ["kysely", "pg", "zod"]) {
  files[`node_modules/${name}/package.json`] = JSON.stringify({ name, version: "1.0.0", main: "index.js" });
  files[`node_modules/${name}/index.js`] = "";
}

const tree = await realpath(await mkdtemp(join(tmpdir(), "onsize-imports-")));
afterAll(() => rm(tree, { recursive: true }));
for (const [name, text] of Object.entries(files)) {
  await mkdir(dirname(join(tree, name)), { recursive: true });
  await writeFile(join(tree, name), text);
}

const options = await extractDepcruiseOptions(rules);
const { output } = await cruise(["src"], { ...options, baseDir: tree });
const offences = (output as ICruiseResult).summary.violations.map(
  ({ rule, from, to }) => `${rule.name}: ${from} -> ${to}`,
);

describe("import rules", () => {
  it.each([
    "core-is-pure: src/core/reads-file.ts -> fs/promises",
    "core-is-pure: src/core/uses-package.ts -> node_modules/zod/index.js",
    "core-is-pure: src/core/knows-db.ts -> src/db/client.ts",
    "resources-are-strangers: src/resources/parts/routes.ts -> src/resources/tools/queries.ts",
    "only-queries-speak-sql: src/resources/parts/schemas.ts -> node_modules/pg/index.js",
    "queries-know-no-http: src/resources/parts/queries.ts -> src/http/problem.ts",
    "queries-know-no-http: src/resources/parts/queries.ts -> node_modules/zod/index.js",
    "http-and-db-serve-resources: src/db/knows-resource.ts -> src/resources/tools/queries.ts",
    "http-and-db-serve-resources: src/http/knows-resource.ts -> src/resources/tools/queries.ts",
    "decision-serves-resources: src/decision/knows-resource.ts -> src/resources/tools/queries.ts",
    "import-only-reads: src/import/knows-db.ts -> src/db/client.ts",
    "uploader-is-a-client: src/uploader/knows-import.ts -> src/import/counts.ts",
    "no-cycles: src/demo/one.ts -> src/demo/two.ts",
    "every-import-is-found: src/demo/lost.ts -> ./nowhere.js",
  ])("catch %s", (offence) => {
    expect(offences).toContain(offence);
  });

  it("catch nothing else", () => {
    expect(offences).toHaveLength(14);
  });
});
