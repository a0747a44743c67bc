// Bundles the page into dist/page; the names of scripts and style carry a digest of what they hold.
import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
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
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  for (const { path, contents } of outputFiles) writeFileSync(join(folder, basename(path)), contents);

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
  writeFileSync(join(folder, "index.html"), html);
  return [html, ...[...needed].map((path) => readFileSync(join(folder, basename(path))))]
    .map((text) => gzipSync(text).length)
    .reduce((sum, size) => sum + size);

  function addNeeded(path) {
    if (needed.has(path)) return;
    needed.add(path);
    for (const used of byPath.get(path).imports) if (used.kind === "import-statement") addNeeded(used.path);
  }
}
