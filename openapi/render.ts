import openapiTypescript, { astToString } from "openapi-typescript";
import { buildApp } from "../src/app.js";
import { openDatabase } from "../src/db/client.js";

/** The contract as it follows from the routes: the document, and its types for clients written in TypeScript. */
export async function renderContract(): Promise<{ document: string; types: string }> {
  const db = openDatabase("postgres://nobody@localhost/never-reached");
  const app = buildApp({ db, config: { logLevel: "silent", adminKey: undefined } });
  const response = await app.inject({ method: "GET", url: "/openapi.json" });
  await app.close();
  await db.destroy();
  const document = `${JSON.stringify(JSON.parse(response.body), null, 2)}\n`;
  // A member with a default may be left out, and defaults stand in requests only.
  const types = await openapiTypescript(JSON.parse(document), { defaultNonNullable: false });
  return { document, types: astToString(types) };
}
