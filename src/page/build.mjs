// Bundles the page into dist/page; the names of scripts and style carry a digest of what they hold.
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { basename, dirname, join } from "node:path";
import { gzipSync } from "node:zlib";
import { buildSync } from "esbuild";

const source = import.meta.dirname;

/** Writes index.html, scripts and style into `folder`, anew; answers the compressed size in bytes of what the first view needs. */
export function buildPage(folder = join(source, "../../dist/page")) {
  const { outputFiles, metafile } = buildSync({
    entryPoints: [join(source, "main.tsx"), join(source, "page.css")],
    entryNames: "[name]-[hash]",
    chunkNames: "[name]-[hash]",
    bundle: true,
    splitting: true,
    minify: true,
    format: "esm",
    target: "es2022",
    jsx: "automatic",
    jsxImportSource: "preact",
    outdir: folder,
    absWorkingDir: source,
    metafile: true,
    write: false,
  });
  mkdirSync(folder, { recursive: true });
  // Beside it first: who reads meanwhile, or builds the same, finds whole files.
  const apart = mkdtempSync(join(dirname(folder), "page-"));
  const written = new Set(["index.html"]);
  const put = (name, contents) => {
    writeFileSync(join(apart, name), contents);
    renameSync(join(apart, name), join(folder, name));
    written.add(name);
  };
  for (const { path, contents } of outputFiles) put(basename(path), contents);

  const outputs = Object.entries(metafile.outputs).map(([path, output]) => ({ ...output, path }));
  const byPath = new Map(outputs.map((output) => [output.path, output]));
  let html = readFileSync(join(source, "index.html"), "utf8");
  const needed = new Set();
  for (const { entryPoint, path } of outputs) {
    // What is imported later, on demand, is an entry point, too.
    if (entryPoint !== "main.tsx" && entryPoint !== "page.css") continue;
    html = html.replace(entryPoint.replace(".tsx", ".js"), basename(path));
    addNeeded(path);
  }
  put("index.html", html);
  for (const name of readdirSync(folder)) if (!written.has(name)) rmSync(join(folder, name), { force: true });
  rmSync(apart, { recursive: true });
  return [html, ...[...needed].map((path) => readFileSync(join(folder, basename(path))))]
    .map((text) => gzipSync(text).length)
    .reduce((sum, size) => sum + size);

  function addNeeded(path) {
    if (needed.has(path)) return;
    needed.add(path);
    for (const used of byPath.get(path).imports) if (used.kind === "import-statement") addNeeded(used.path);
  }
}
