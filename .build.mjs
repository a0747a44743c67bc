// `node .build.mjs` compiles src into dist; `node .build.mjs dist/server.js ...` does so only when something changed
// since, then runs that program in this same process, so that signals reach it.
import { spawnSync } from "node:child_process";
import { cpSync, readdirSync, statSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { extname, join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { bundleUploader } from "./.bundle.mjs";

const root = import.meta.dirname;
const stamp = join(root, "dist", ".built");
const program = process.argv[2];

if (program === undefined || isOutdated()) await build();
if (program !== undefined) {
  process.argv.splice(1, 2, resolve(root, program));
  await import(pathToFileURL(process.argv[1]).href);
}

function isOutdated() {
  const built = statSync(stamp, { throwIfNoEntry: false })?.mtimeMs ?? 0;
  const sources = readdirSync(join(root, "src"), { recursive: true }).map((name) => join("src", name));
  // A folder's own time tells of files that were removed.
  return ["src", "tsconfig.json", "package-lock.json", ...sources].some(
    (name) => statSync(join(root, name)).mtimeMs > built,
  );
}

async function build() {
  const begun = new Date();
  process.stderr.write("building ...\n");
  const compiler = createRequire(import.meta.url).resolve("typescript/bin/tsc");
  const { status } = spawnSync(process.execPath, [compiler, "-p", join(root, "src")], {
    stdio: ["ignore", 2, 2],
  });
  if (status !== 0) process.exit(1);
  const { buildPage } = await import(pathToFileURL(join(root, "src/page/build.mjs")).href);
  process.stderr.write(`page: ${(buildPage() / 1000).toFixed(1)} kB compressed\n`);
  cpSync(join(root, "src"), join(root, "dist"), { recursive: true, filter: isAsset });
  bundleUploader(join(root, "dist/onsize-upload.mjs"));
  writeFileSync(stamp, begun.toISOString());
}

function isAsset(path) {
  if (path === join(root, "src/page")) return false;
  return statSync(path).isDirectory() || ![".ts", ".json"].includes(extname(path));
}
