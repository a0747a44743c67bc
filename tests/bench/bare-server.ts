import Fastify from "fastify";
import pg from "pg";

/** The baseline: a route that takes the same bodies and only inserts the same rows, one statement for a request. */
const pool = new pg.Pool({ connectionString: process.argv[2]!, max: 10 });
await pool.query(`create table if not exists bare_reading (
  batch_id bigint not null, reading_no bigint generated always as identity, feature_id bigint not null, piece integer not null,
  cut integer not null, repeat integer not null, value_mm numeric(18, 9) not null, value_given text not null, unit text not null,
  gauge_id bigint not null, measured_at timestamptz(3), received_at timestamptz(3) not null default now(),
  primary key (batch_id, reading_no))`);
await pool.query(
  "create index if not exists bare_reading_feature_piece on bare_reading (batch_id, feature_id, piece)",
);

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
    `insert into bare_reading (batch_id, feature_id, piece, cut, repeat, value_mm, value_given, unit, gauge_id)
     select b, f, p, 1, 1, v, v, u, g
     from unnest($1::bigint[], $2::bigint[], $3::int[], $4::text[]::numeric[], $5::text[], $6::bigint[]) as t (b, f, p, v, u, g)
     returning *`,
    [
      list.map((r) => r.batch_id),
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
