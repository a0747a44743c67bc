// Bundles the page into dist/page; the names of script and style carry a digest of what they hold.
import { createHash } from "node:crypto";
import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { gzipSync } from "node:zlib";
import { buildSync } from "esbuild";

const source = import.meta.dirname;

/** Writes index.html, script and style into `folder`, anew; answers their compressed size in bytes. */
export function buildPage(folder = join(source, "../../dist/page")) {
  const { outputFiles } = buildSync({
    entryPoints: [join(source, "main.tsx"), join(source, "page.css")],
    bundle: true,
    minify: true,
    format: "esm",
    target: "es2022",
    jsx: "automatic",
    jsxImportSource: "preact",
    outdir: folder,
    write: false,
  });
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true });
  let html = readFileSync(join(source, "index.html"), "utf8");
  let size = 0;
  for (const { path, contents } of outputFiles) {
    const digest = createHash("sha256").update(contents).digest("hex").slice(0, 12);
    const name = basename(path).replace(".", `-${digest}.`);
    writeFileSync(join(folder, name), contents);
    html = html.replace(basename(path), name);
    size += gzipSync(contents).length;
  }
  writeFileSync(join(folder, "index.html"), html);
  return size + gzipSync(html).length;
}
