import { writeFile } from "node:fs/promises";
import { renderContract } from "./render.js";

const { document, types } = await renderContract();
await writeFile(new URL("openapi.json", import.meta.url), document);
await writeFile(new URL("openapi.d.ts", import.meta.url), types);
