import Fastify from "fastify";
import pg from "pg";
import { openDatabase } from "../../src/db/client.js";
import { migrate } from "../../src/db/migrate.js";

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
  const { rows } = await pool.query(
    `insert into reading (batch_id, reading_no, feature_id, piece, cut, repeat, value_mm, value_given, unit, gauge_id,
       gauge_variance, gauge_fit, known_piece, verdict, disposition, target_mm, probability_conforming, prior, flags)
     select b, n, f, p, 1, 1, v, v, u, g, 1e-6, true, p, 'conforming', 'accept', 12, 1, 'flat', '{}'
     from unnest($1::bigint[], $2::int[], $3::bigint[], $4::int[], $5::text[]::numeric[], $6::text[], $7::bigint[])
       as t (b, n, f, p, v, u, g)
     returning *`,
    [
      list.map((r) => r.batch_id),
      list.map(() => ++count),
      list.map((r) => r.feature_id),
      list.map((r) => r.piece),
      list.map((r) => String(r.value)),
      list.map((r) => r.unit),
      list.map((r) => r.gauge_id),
    ],
  );
  reply.code(201);
  return { readings: rows };
});
const address = await app.listen({ host: "127.0.0.1", port: 0 });
process.stdout.write(`${address}\n`);
