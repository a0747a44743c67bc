import type { Db } from "../../db/client.js";
import { showExpansion, storeExpansion } from "../../http/expansion.js";
import { WriteHeaders, write } from "../../http/idempotency.js";
import { showLength, storeLength } from "../../http/lengths.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, type FieldError, ProblemError, problemAt, problems } from "../../http/problem.js";
import { type App, refuseDms } from "../../http/types.js";
import { findGauge, insertGauge, listGauges, updateGauge } from "./queries.js";
import { Gauge, GaugeChange, GaugeCreate, GaugeList, GaugePath, GaugeQuery } from "./schemas.js";

type GaugeRow = NonNullable<Awaited<ReturnType<typeof findGauge>>>;

export async function gaugeRoutes(app: App, { db }: { db: Db }) {
  app.post("/gauges", {
    schema: {
      operationId: "createGauge",
      summary: "Set up a gauge",
      tags: ["gauges"],
      headers: WriteHeaders,
      body: GaugeCreate,
      response: {
        201: answer("The gauge as it is kept", Gauge),
        ...problems({
          409: "The name is taken, or the same request is still being worked on",
          422: "A machine_probe as a reference, or the Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const { body } = request;
        const reference = body.reference ?? body.kind !== "machine_probe";
        refuseProbeAsReference(body.kind, reference);
        const row = await insertGauge(trx, {
          name: body.name,
          kind: body.kind,
          unit: body.unit,
          resolution_mm: storeLength(body.resolution, body.unit),
          repeatability_mm: storeLength(body.repeatability, body.unit),
          expanded_uncertainty_mm: storeLength(body.expanded_uncertainty, body.unit),
          coverage_factor: body.coverage_factor,
          calibration_due: body.calibration_due ?? null,
          reference,
          reads: body.reads,
          master_size_mm: storeLength(body.master_size, body.unit),
          sense: body.reads === "deviation" ? (body.sense ?? "normal") : null,
          material: body.material ?? null,
          minutes_per_reading: body.minutes_per_reading ?? null,
          ...storeExpansion(body),
        });
        if (!row) {
          throw problemAt("conflict", [
            {
              pointer: "/name",
              detail: `a gauge named "${body.name}" exists already: use that one (GET /v1/gauges lists it) or choose another name`,
            },
          ]);
        }
        return { status: 201, body: toGauge(row) };
      }),
  });

  app.get("/gauges", {
    schema: {
      operationId: "listGauges",
      summary: "List the gauges",
      tags: ["gauges"],
      querystring: GaugeQuery,
      response: { 200: answer("Gauges, oldest first", GaugeList) },
    },
    handler: async ({ query }) => {
      const [after = "0"] = readCursor(query.cursor, 1);
      const rows = await listGauges(db, { after, limit: query.limit + 1 });
      return toPage(rows, query.limit, ({ gauge_id }) => [gauge_id], toGauge);
    },
  });

  app.get("/gauges/:gauge_id", {
    schema: {
      operationId: "getGauge",
      summary: "Show one gauge",
      tags: ["gauges"],
      params: GaugePath,
      response: { 200: answer("The gauge", Gauge), ...problems({ 404: "There is no such gauge" }) },
    },
    handler: async ({ params }) => toGauge(await findGaugeOrRefuse(db, params.gauge_id)),
  });

  app.patch("/gauges/:gauge_id", {
    schema: {
      operationId: "updateGauge",
      summary: "Change what is known about a gauge, as after a calibration",
      description: "Readings taken before keep the size and the verdict they were given.",
      tags: ["gauges"],
      params: GaugePath,
      body: GaugeChange,
      response: {
        200: answer("The gauge as it is kept now", Gauge),
        ...problems({ 404: "There is no such gauge", 422: "A machine_probe as a reference" }),
      },
    },
    handler: async ({ params, body }) => {
      const { kind, unit } = await findGaugeOrRefuse(db, params.gauge_id);
      refuseProbeAsReference(kind, body.reference);
      if (unit !== "deg") refuseAngles(body);
      const { resolution, repeatability, expanded_uncertainty, expansion_coefficient, ...other } = body;
      const { expansion_uncertainty, ...rest } = other;
      const row = await updateGauge(db, params.gauge_id, {
        ...rest,
        ...(expansion_coefficient !== undefined &&
          storeExpansion({ expansion_coefficient, expansion_uncertainty })),
        ...(resolution !== undefined && { resolution_mm: storeLength(resolution, unit) }),
        ...(repeatability !== undefined && { repeatability_mm: storeLength(repeatability, unit) }),
        ...(expanded_uncertainty !== undefined && {
          expanded_uncertainty_mm: storeLength(expanded_uncertainty, unit),
        }),
      });
      return toGauge(row);
    },
  });
}

async function findGaugeOrRefuse(db: Db, gaugeId: string): Promise<GaugeRow> {
  const row = await findGauge(db, gaugeId);
  if (!row) throw new ProblemError("not-found", `There is no gauge ${gaugeId}. GET /v1/gauges lists them.`);
  return row;
}

function refuseAngles(change: object): void {
  const errors: FieldError[] = [];
  refuseDms(change, ["resolution", "repeatability", "expanded_uncertainty"], (field, detail) =>
    errors.push({ pointer: `/${field}`, detail }),
  );
  if (errors.length > 0) throw problemAt("unprocessable", errors);
}

function refuseProbeAsReference(kind: string, reference: boolean | undefined): void {
  if (kind !== "machine_probe" || !reference) return;
  throw problemAt("unprocessable", [
    {
      pointer: "/reference",
      detail:
        "a probe in the machine that cut the piece shares the machine's errors and proves no size: send false, and prove sizes with another gauge",
    },
  ]);
}

function toGauge(row: GaugeRow): Gauge {
  return {
    gauge_id: row.gauge_id,
    name: row.name,
    kind: row.kind as Gauge["kind"],
    unit: row.unit,
    resolution: showLength(row.resolution_mm, row.unit),
    repeatability: showLength(row.repeatability_mm, row.unit),
    expanded_uncertainty: showLength(row.expanded_uncertainty_mm, row.unit),
    coverage_factor: row.coverage_factor,
    calibration_due: row.calibration_due,
    reference: row.reference,
    reads: row.reads,
    master_size: showLength(row.master_size_mm, row.unit),
    sense: row.sense,
    material: row.material,
    minutes_per_reading: row.minutes_per_reading,
    ...showExpansion(row),
    created_at: row.created_at,
  };
}
