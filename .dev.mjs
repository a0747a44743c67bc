// The page, then the service; `npm run dev` runs it anew on every change of either.
import { buildPage } from "./src/page/build.mjs";

buildPage();
await import("./src/server.ts");
