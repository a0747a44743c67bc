import { join } from "node:path";
import { buildSync } from "esbuild";

/** The uploader for the computers of machines: one file that needs nothing but Node. */
export function bundleUploader(outfile) {
  buildSync({
    entryPoints: [join(import.meta.dirname, "src/uploader/main.ts")],
    outfile,
    bundle: true,
    platform: "node",
    format: "esm",
    target: "node20",
    logLevel: "warning",
  });
}
