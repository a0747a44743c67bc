import {
  formatMeasure,
  fromNumeric,
  type MeasureUnit,
  parseMeasure,
  toNumeric,
  toUnit,
} from "../../core/quantity.js";
import type { Db, Trx } from "../../db/client.js";
import { WriteHeaders, write } from "../../http/idempotency.js";
import { showVoided, VoidCreate } from "../../http/journal.js";
import { lengthPm, showLength } from "../../http/lengths.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, ProblemError, problemAt, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import {
  cellsOf,
  evaluateCrossed,
  evaluateLinearity,
  evaluateOnePart,
  type Scale,
  type StudyReading,
} from "./evaluate.js";
import {
  acceptStudy,
  findGauge,
  findLatestAccepted,
  findStudy,
  insertStudy,
  listStudies,
  lockGauge,
  updateRepeatability,
  voidStudy,
} from "./queries.js";
import {
  GaugeStudy,
  GaugeStudyCreate,
  GaugeStudyList,
  StudiesPath,
  StudyAccept,
  StudyPath,
  StudyQuery,
  type StudyResult,
} from "./schemas.js";
import { resolveStored } from "./stored-readings.js";

type GaugeRow = NonNullable<Awaited<ReturnType<typeof findGauge>>>;
type StudyRow = NonNullable<Awaited<ReturnType<typeof findStudy>>>;

export async function gaugeStudyRoutes(app: App, { db }: { db: Db }) {
  app.post("/gauges/:gauge_id/studies", {
    schema: {
      operationId: "createGaugeStudy",
      summary: "Enter a study of a gauge, all readings in one go; answers what it is good for",
      description:
        "The gauge stays as it is until somebody accepts the study. Readings are sent as values, or named by `reading_id` where they are stored already.",
      tags: ["gauges"],
      params: StudiesPath,
      headers: WriteHeaders,
      body: GaugeStudyCreate,
      response: {
        201: answer("The study and what it came to", GaugeStudy),
        ...problems({
          404: "There is no such gauge",
          409: "The same request is still being worked on",
          422: "Readings are missing or do not suit the gauge, or the Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const gauge = await orRefuse(findGauge(trx, request.params.gauge_id), request.params.gauge_id);
        return { status: 201, body: toStudy(await createStudy(trx, gauge, request.body)) };
      }),
  });

  app.get("/gauges/:gauge_id/studies", {
    schema: {
      operationId: "listGaugeStudies",
      summary: "List the studies of a gauge, the latest first; voided ones among them",
      tags: ["gauges"],
      params: StudiesPath,
      querystring: StudyQuery,
      response: { 200: answer("Studies", GaugeStudyList), ...problems({ 404: "There is no such gauge" }) },
    },
    handler: async ({ params, query }) => {
      await orRefuse(findGauge(db, params.gauge_id), params.gauge_id);
      const [before] = query.cursor === undefined ? [] : readCursor(query.cursor, 1);
      const rows = await listStudies(db, { gaugeId: params.gauge_id, before, limit: query.limit + 1 });
      return toPage(rows, query.limit, (row) => [row.gauge_study_id], toStudy);
    },
  });

  app.get("/gauges/:gauge_id/studies/:gauge_study_id", {
    schema: {
      operationId: "getGaugeStudy",
      summary: "Show a study of a gauge",
      tags: ["gauges"],
      params: StudyPath,
      response: { 200: answer("The study", GaugeStudy), ...problems({ 404: "There is no such study" }) },
    },
    handler: async ({ params }) => toStudy(await findStudyOrRefuse(db, params)),
  });

  app.post("/gauges/:gauge_id/studies/:gauge_study_id/accept", {
    schema: {
      operationId: "acceptGaugeStudy",
      summary: "Give the gauge the repeatability that the study found",
      description: "It counts for readings that come from then on; what was decided before stays.",
      tags: ["gauges"],
      params: StudyPath,
      headers: WriteHeaders,
      body: StudyAccept,
      response: {
        200: answer("The accepted study", GaugeStudy),
        ...problems({
          404: "There is no such study",
          409: "It is voided or accepted already, or the same request is still being worked on",
          422: "The Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const { params, body } = request;
        const gauge = await orRefuse(lockGauge(trx, params.gauge_id), params.gauge_id);
        const study = await findStudyOrRefuse(trx, params);
        if (study.voided_at !== null)
          throw new ProblemError("conflict", `Study ${study.gauge_study_id} is voided.`);
        if (study.accepted_at !== null) {
          throw new ProblemError(
            "conflict",
            `Study ${study.gauge_study_id} was accepted by ${study.accepted_by} already.`,
          );
        }
        const row = await acceptStudy(trx, study.gauge_study_id, {
          by: body.by,
          before: gauge.repeatability_mm,
        });
        await updateRepeatability(trx, gauge.gauge_id, study.repeatability_mm);
        return { status: 200, body: toStudy(row) };
      }),
  });

  app.post("/gauges/:gauge_id/studies/:gauge_study_id/void", {
    schema: {
      operationId: "voidGaugeStudy",
      summary: "Take a study out of what counts",
      description:
        "Where it is the latest that was accepted and the gauge still has its repeatability, the gauge gets back the one from before.",
      tags: ["gauges"],
      params: StudyPath,
      headers: WriteHeaders,
      body: VoidCreate,
      response: {
        200: answer("The voided study", GaugeStudy),
        ...problems({
          404: "There is no such study",
          409: "It is voided already, or the same request is still being worked on",
          422: "The Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const { params, body } = request;
        const gauge = await orRefuse(lockGauge(trx, params.gauge_id), params.gauge_id);
        const study = await findStudyOrRefuse(trx, params);
        if (study.voided_at !== null)
          throw new ProblemError("conflict", `Study ${study.gauge_study_id} is voided already.`);
        const latest = await findLatestAccepted(trx, gauge.gauge_id);
        if (
          latest?.gauge_study_id === study.gauge_study_id &&
          gauge.repeatability_mm === study.repeatability_mm
        ) {
          await updateRepeatability(trx, gauge.gauge_id, study.repeatability_before_mm);
        }
        const row = await voidStudy(trx, study.gauge_study_id, { reason: body.reason, by: body.by ?? null });
        return { status: 200, body: toStudy(row) };
      }),
  });
}

const units = { mm: "mm", inch: "inch", um: "µm", deg: "deg" } as const;

async function createStudy(trx: Trx, gauge: GaugeRow, body: GaugeStudyCreate): Promise<StudyRow> {
  const unit = units[body.unit];
  refuseUnsuited(gauge, unit);
  const stored = await resolveStored(trx, gauge, body);
  const readings = body.readings.map(({ operator, part, value, reading_id, reference }): StudyReading => {
    const known = reading_id === undefined ? undefined : stored.get(reading_id);
    return {
      operator: operator ?? known?.operator ?? "the operator",
      part: part ?? known?.part ?? "",
      pm: known?.pm ?? lengthPm(value!, unit),
      referencePm: reference === undefined ? undefined : lengthPm(reference, unit),
    };
  });
  const tolerancePm = body.tolerance === undefined ? undefined : lengthPm(body.tolerance, unit);
  const scale: Scale = {
    steps: parseMeasure(1, unit)!,
    say: (pm) => formatMeasure(roundFor(pm), unit),
  };
  const { verdict, why, result, repeatabilityPm } = evaluate(body, readings, tolerancePm, scale);
  return insertStudy(trx, {
    gauge_id: gauge.gauge_id,
    kind: body.kind,
    unit,
    tolerance_mm: tolerancePm === undefined ? null : toNumeric(tolerancePm),
    // Sizes of stored readings stay with the study, whatever becomes of the readings.
    readings: JSON.stringify(
      body.readings.map((reading, i) =>
        reading.reading_id === undefined ? reading : { ...reading, value_mm: toNumeric(readings[i]!.pm) },
      ),
    ),
    options: JSON.stringify({
      reference: body.reference ?? null,
      interaction: body.interaction,
      pool_above: body.pool_above,
      share: body.share,
      spread: body.spread,
      least_index: body.least_index,
      limits: body.limits,
    }),
    result: JSON.stringify({ verdict, why, ...result } satisfies StudyResult),
    repeatability_mm: toNumeric(Math.round(repeatabilityPm)),
    note: body.note ?? null,
    by_name: body.by ?? null,
  });
}

/** To a tenth of a micrometre, for sentences. */
function roundFor(pm: number): number {
  return Math.round(pm / 1e5) * 1e5;
}

function evaluate(
  body: GaugeStudyCreate,
  readings: StudyReading[],
  tolerancePm: number | undefined,
  scale: Scale,
) {
  if (body.kind === "one_part") {
    const referencePm = lengthPm(body.reference!, units[body.unit]);
    return evaluateOnePart(
      readings.map(({ pm }) => pm),
      referencePm,
      tolerancePm,
      body,
      scale,
    );
  }
  if (body.kind === "crossed") {
    const cells = cellsOf(readings);
    if (typeof cells === "string")
      throw problemAt("unprocessable", [{ pointer: "/readings", detail: cells }]);
    return evaluateCrossed(cells, tolerancePm, body, scale);
  }
  const standards = new Set(readings.map(({ referencePm }) => referencePm)).size;
  if (standards < 2 || readings.length <= standards) {
    throw problemAt("unprocessable", [
      {
        pointer: "/readings",
        detail:
          "a linearity study needs at least 2 standards of different size, 5 are usual, and more than one reading of some",
      },
    ]);
  }
  return evaluateLinearity(readings, tolerancePm, body, scale);
}

function refuseUnsuited({ name, unit: own, resolution_mm }: GaugeRow, unit: MeasureUnit): void {
  const isAngle = unit === "deg";
  const detail =
    resolution_mm === null
      ? `${name} passes or refuses and shows no number: it has no repeatability to be studied`
      : own === "deg"
        ? `must be "deg": ${name} measures angles`
        : `must be "mm", "inch" or "um": ${name} measures lengths`;
  if (resolution_mm === null || isAngle !== (own === "deg"))
    throw problemAt("unprocessable", [{ pointer: "/unit", detail }]);
}

async function orRefuse(found: Promise<GaugeRow | undefined>, gaugeId: string): Promise<GaugeRow> {
  const row = await found;
  if (!row) throw new ProblemError("not-found", `There is no gauge ${gaugeId}. GET /v1/gauges lists them.`);
  return row;
}

async function findStudyOrRefuse(
  db: Db,
  { gauge_id, gauge_study_id }: { gauge_id: string; gauge_study_id: string },
) {
  const row = await findStudy(db, gauge_id, gauge_study_id);
  if (row) return row;
  throw new ProblemError(
    "not-found",
    `Gauge ${gauge_id} has no study ${gauge_study_id}: GET /v1/gauges/${gauge_id}/studies lists them.`,
  );
}

function toStudy(row: StudyRow): GaugeStudy {
  const result = row.result as StudyResult; // as createStudy has written it
  return {
    gauge_study_id: row.gauge_study_id,
    gauge_id: row.gauge_id,
    kind: row.kind,
    unit: row.unit,
    tolerance: showLength(row.tolerance_mm, row.unit),
    readings: row.readings.length,
    ...result,
    note: row.note,
    by: row.by_name,
    created_at: row.created_at,
    accepted:
      row.accepted_at === null
        ? null
        : {
            at: row.accepted_at,
            by: row.accepted_by ?? "",
            repeatability_before:
              row.repeatability_before_mm === null
                ? null
                : toUnit(fromNumeric(row.repeatability_before_mm), row.unit),
          },
    voided: showVoided(row),
  };
}
