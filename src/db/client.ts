import { Kysely, PostgresDialect, type Transaction } from "kysely";
import pg from "pg";
import type { Database } from "./schema.js";

export type Db = Kysely<Database>;
export type Trx = Transaction<Database>;

const { builtins, getTypeParser } = pg.types;
const readInstant: (text: string) => Date = getTypeParser(builtins.TIMESTAMPTZ);
const textArray: number = 1009;
const readTextArray: (text: string) => (string | null)[] = getTypeParser(textArray);
const keepText = (text: string) => text;
const toInstant = (text: string) => readInstant(text).toISOString();
const int8Array = 1016;
const dateArray = 1182;
const timestamptzArray = 1185;
const numericArray = 1231;

// What a double or a Date cannot hold exactly stays text; instants are RFC 3339 in UTC, as on the wire.
const parsers = new Map<number, (text: string) => unknown>([
  [builtins.INT8, keepText],
  [builtins.NUMERIC, keepText],
  [builtins.DATE, keepText],
  [builtins.TIMESTAMPTZ, toInstant],
  [int8Array, readTextArray],
  [numericArray, readTextArray],
  [dateArray, readTextArray],
  [timestamptzArray, (text) => readTextArray(text).map((entry) => entry && toInstant(entry))],
]);

const preparedMark = /^\s*\/\* prepared (\S+) \*\//;

/**
 * A statement that begins with the comment "prepared <name>" is planned once per connection: for the few large ones on
 * the path of every reading, where planning would cost more than running.
 */
class PreparingClient extends pg.Client {
  // biome-ignore lint/suspicious/noExplicitAny: one of many overloads, handed on as it is
  override query(...args: any[]): any {
    const [text, values, callback] = args;
    const name = typeof text === "string" ? preparedMark.exec(text)?.[1] : undefined;
    const run = super.query as (...args: unknown[]) => unknown;
    return name === undefined ? run.apply(this, args) : run.call(this, { name, text, values }, callback);
  }
}

const pools = new WeakMap<Db, pg.Pool>();

/** How many connections there are, how many have nothing to do, how many statements wait for one. */
export function countConnections(db: Db): { open: number; idle: number; waiting: number } {
  const pool = pools.get(db);
  return { open: pool?.totalCount ?? 0, idle: pool?.idleCount ?? 0, waiting: pool?.waitingCount ?? 0 };
}

/** A pool of connections; `destroy()` on the result closes it. */
export function openDatabase(url: string, { max = 10 }: { max?: number } = {}): Db {
  const pool = new pg.Pool({
    Client: PreparingClient,
    connectionString: url,
    application_name: "onsize",
    max,
    connectionTimeoutMillis: 10_000,
    keepAlive: true,
    types: {
      getTypeParser: (oid: number, format?: "text" | "binary") =>
        (format !== "binary" && parsers.get(oid)) || getTypeParser(oid, format as "text"),
    },
  });
  // A connection that dies is also an "error" event, and one that nobody listens to ends the process. The statement
  // that was under way rejects all the same, and the pool replaces the connection.
  pool.on("error", () => {});
  pool.on("connect", (client) => client.on("error", () => {}));
  const db = new Kysely<Database>({ dialect: new PostgresDialect({ pool }) });
  pools.set(db, pool);
  return db;
}
