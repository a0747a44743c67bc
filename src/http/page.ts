import { readdirSync, readFileSync } from "node:fs";
import { extname } from "node:path";
import type { App } from "./types.js";

const folder = new URL("../../dist/page/", import.meta.url);
const types: Record<string, string> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
};
const policy =
  "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src 'self' data:; " +
  "base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/** The page at `/`, where it has been built. Its files are few and small, and are held in memory. */
export async function pageRoutes(app: App) {
  for (const name of listFiles()) {
    const body = readFileSync(new URL(name, folder));
    const isIndex = name === "index.html";
    app.get(isIndex ? "/" : `/page/${name}`, { schema: { hide: true } }, (_, reply) => {
      reply
        .header("content-type", types[extname(name)])
        .header("content-security-policy", policy)
        .header("x-content-type-options", "nosniff")
        .header("referrer-policy", "no-referrer")
        // A file's name changes with what it holds.
        .header("cache-control", isIndex ? "no-cache" : "public, max-age=31536000, immutable");
      return reply.send(body);
    });
  }
}

function listFiles(): string[] {
  try {
    return readdirSync(folder);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return [];
    throw error;
  }
}
