import { setTimeout as delay } from "node:timers/promises";
import { sql } from "kysely";
import { Counter, collectDefaultMetrics, Gauge, Histogram, Registry } from "prom-client";
import { countConnections, type Db } from "../db/client.js";
import type { ReadingRecorder, RecorderObserver } from "../decision/reading-recorder.js";
import type { App } from "./types.js";

const requestSeconds = [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 60];
const databasePatienceMs = 2000;

/** What the service counts of itself, one set for each service of a process. */
export function createMetrics(db: Db) {
  const registry = new Registry();
  const registers = [registry];
  collectDefaultMetrics({ register: registry });
  const requests = new Histogram({
    name: "onsize_request_seconds",
    help: "Time from a request's first byte to its answer's last, by route as the contract writes it",
    labelNames: ["method", "route", "status"],
    buckets: requestSeconds,
    registers,
  });
  const readings = new Counter({
    name: "onsize_readings_total",
    help: "Readings taken in by this process, by verdict; none: nothing was measured",
    labelNames: ["verdict"],
    registers,
  });
  for (const verdict of ["conforming", "nonconforming", "uncertain", "none"]) readings.inc({ verdict }, 0);
  const lastReading = new Gauge({
    name: "onsize_last_reading_timestamp_seconds",
    help: "When this process took a reading last; 0: not yet",
    registers,
  });
  const drains = new Histogram({
    name: "onsize_drain_seconds",
    help: "Time to decide and write what was waiting",
    buckets: requestSeconds,
    registers,
  });
  const observer: RecorderObserver = {
    taken(taken) {
      if (taken.length > 0) lastReading.setToCurrentTime();
      for (const { verdict } of taken) readings.inc({ verdict: verdict ?? "none" });
    },
    drained: (seconds) => drains.observe(seconds),
  };

  function watch(recorder: ReadingRecorder): void {
    gauge("onsize_waiting_readings", "Posted readings that wait for their turn", () => recorder.backlog);
    gauge("onsize_database_connections", "Open connections to the database", () => countConnections(db).open);
    gauge(
      "onsize_database_waiting",
      "Statements that wait for a connection to the database",
      () => countConnections(db).waiting,
    );
  }

  const up = new Gauge({
    name: "onsize_database_up",
    help: "1: the database answers; 0: it does not, and what is counted in it is as it was",
    registers,
  });
  const open = new Gauge({
    name: "onsize_open_advice",
    help: "What is advised and not yet answered by a person, of all jobs, by kind",
    labelNames: ["kind"],
    registers,
  });
  const size = new Gauge({ name: "onsize_database_bytes", help: "Size of the database", registers });
  const overdue = new Gauge({
    name: "onsize_gauges_overdue",
    help: "Gauges whose calibration was due before today",
    registers,
  });

  const backup = new Gauge({
    name: "onsize_last_backup_timestamp_seconds",
    help: "When the last backup was taken; 0: never",
    registers,
  });

  async function read(): Promise<string> {
    const found = await countInDatabase(db);
    up.set(found ? 1 : 0);
    if (found) {
      open.reset();
      for (const { kind, count } of found.open) open.set({ kind }, Number(count));
      size.set(Number(found.bytes));
      overdue.set(Number(found.overdue));
      backup.set(found.backup);
    }
    return registry.metrics();
  }

  function gauge(name: string, help: string, now: () => number): void {
    new Gauge({
      name,
      help,
      registers,
      collect() {
        this.set(now());
      },
    });
  }

  return { contentType: registry.contentType, requests, observer, watch, read };
}

/** Undefined where the database does not answer in good time. */
async function countInDatabase(db: Db) {
  const found = sql<{
    open: { kind: string; count: number }[];
    bytes: string;
    overdue: string;
    backup: number;
  }>`
    select
      coalesce((select json_agg(counted) from
        (select kind, count(*) from correction where status = 'proposed' group by kind) counted), '[]') as open,
      pg_database_size(current_database()) as bytes,
      (select count(*) from gauge where calibration_due < current_date) as overdue,
      coalesce((select extract(epoch from backed_up_at)::float8 from upkeep), 0) as backup
  `.execute(db);
  const late = delay(databasePatienceMs, undefined, { ref: false });
  return Promise.race([found.then(({ rows }) => rows[0]).catch(() => undefined), late]);
}

/** `GET /metrics` in the text format that Prometheus and OpenMetrics collectors read. */
export async function metricsRoutes(app: App, { metrics }: { metrics: ReturnType<typeof createMetrics> }) {
  app.get("/metrics", { config: { isUncounted: true }, schema: { hide: true } }, async (_, reply) => {
    reply.type(metrics.contentType);
    return reply.serializer((text) => text as string).send(await metrics.read());
  });
}
