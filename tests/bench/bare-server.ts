import Fastify from "fastify";
import pg from "pg";
import { openDatabase } from "../../src/db/client.js";
import { migrate } from "../../src/db/migrate.js";
import { bareInsert } from "./bare-insert.js";

/** The baseline: a route that takes the same bodies and only inserts the same rows, one statement for a request. */
const url = process.argv[2]!;
const db = openDatabase(url, { max: 1 });
await migrate(db, { info: () => {} });
await db.destroy();
const pool = new pg.Pool({ connectionString: url, max: 10 });
let count = 0;

interface Body {
  batch_id: string;
  feature_id: string;
  piece: number;
  value: number;
  unit: string;
  gauge_id: string;
}
const app = Fastify({ bodyLimit: 5 * 1024 * 1024 });
app.post("/v1/readings", async (request, reply) => {
  const list = Array.isArray(request.body) ? (request.body as Body[]) : [request.body as Body];
  const { rows } = await pool.query(bareInsert, [
    list.map((r) => r.batch_id),
    list.map(() => ++count),
    list.map((r) => r.feature_id),
    list.map((r) => r.piece),
    list.map((r) => String(r.value)),
    list.map((r) => r.unit),
    list.map((r) => r.gauge_id),
  ]);
  reply.code(201);
  return { readings: rows };
});
const address = await app.listen({ host: "127.0.0.1", port: 0 });
process.stdout.write(`${address}\n`);
