import { type ShownUnit, shownUnitOf } from "../../core/feature-kind.js";
import {
  formatMeasure,
  fromNumeric,
  type LengthUnit,
  parseMeasure,
  toNumeric,
  toUnit,
} from "../../core/quantity.js";
import { allowedError, judgeAgain } from "../../core/tolerance/gauge-check.js";
import type { Db, Trx } from "../../db/client.js";
import { doubtAfresh } from "../../decision/doubt-afresh.js";
import { gaugeView } from "../../decision/gauge-view.js";
import { sizeShown } from "../../decision/measured-value.js";
import { optionalPm } from "../../decision/stored-size.js";
import { WriteHeaders, write } from "../../http/idempotency.js";
import { showVoided, VoidCreate } from "../../http/journal.js";
import { readCursor, toPage } from "../../http/pagination.js";
import { answer, ProblemError, problemAt, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import {
  findCheck,
  findCheckBefore,
  findGauge,
  insertCheck,
  listChecks,
  listDoubted,
  lockGauge,
  sumUpDoubt,
  voidCheck,
} from "./queries.js";
import {
  CheckPath,
  CheckQuery,
  ChecksPath,
  type DoubtedReading,
  DoubtedReadingList,
  type GaugeCheck,
  GaugeCheckAnswer,
  GaugeCheckCreate,
  GaugeCheckList,
} from "./schemas.js";

type GaugeRow = NonNullable<Awaited<ReturnType<typeof findGauge>>>;
type CheckRow = NonNullable<Awaited<ReturnType<typeof findCheck>>>;

export async function gaugeCheckRoutes(app: App, { db }: { db: Db }) {
  app.post("/gauges/:gauge_id/checks", {
    schema: {
      operationId: "createGaugeCheck",
      summary: "Enter what a gauge read on a standard; answers whether it is fit, and else what is in doubt",
      description:
        "Readings between an earlier check and one that shows the gauge off are flagged `gauge_in_doubt`, and so are later ones until a good check, unless the error is taken off them. Readings that are off by more than a quarter of the way from target to limit steer no register any more.",
      tags: ["gauges"],
      params: ChecksPath,
      headers: WriteHeaders,
      body: GaugeCheckCreate,
      response: {
        201: answer("The check as it is kept, and what it leaves in doubt", GaugeCheckAnswer),
        ...problems({
          404: "There is no such gauge",
          409: "The gauge has a check at that instant, or the same request is still being worked on",
          422: "A check that lies ahead or is beyond every size, or the Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => ({
        status: 201,
        body: await createCheck(trx, request.params.gauge_id, request.body),
      })),
  });

  app.get("/gauges/:gauge_id/checks", {
    schema: {
      operationId: "listGaugeChecks",
      summary: "List the checks of a gauge, the latest first; voided ones among them",
      tags: ["gauges"],
      params: ChecksPath,
      querystring: CheckQuery,
      response: { 200: answer("Checks", GaugeCheckList), ...problems({ 404: "There is no such gauge" }) },
    },
    handler: async ({ params, query }) => {
      const gauge = await orRefuse(findGauge(db, params.gauge_id), params.gauge_id);
      const [at = "0", id = "0"] = readCursor(query.cursor, 2);
      const before = query.cursor === undefined ? undefined : { at, id };
      const rows = await listChecks(db, { gaugeId: gauge.gauge_id, before, limit: query.limit + 1 });
      return toPage(
        rows,
        query.limit,
        (row) => [Date.parse(row.checked_at), row.gauge_check_id],
        (row) => toCheck(row, gauge),
      );
    },
  });

  app.get("/gauges/:gauge_id/checks/:gauge_check_id", {
    schema: {
      operationId: "getGaugeCheck",
      summary: "Show a check of a gauge, and what it leaves in doubt now",
      tags: ["gauges"],
      params: CheckPath,
      response: {
        200: answer("The check", GaugeCheckAnswer),
        ...problems({ 404: "There is no such check" }),
      },
    },
    handler: async ({ params }) => {
      const gauge = await orRefuse(findGauge(db, params.gauge_id), params.gauge_id);
      return withDoubt(db, await findCheckOrRefuse(db, params), gauge);
    },
  });

  app.get("/gauges/:gauge_id/checks/:gauge_check_id/readings", {
    schema: {
      operationId: "listDoubtedReadings",
      summary: "List the readings that a check leaves in doubt, each judged again by the error found",
      tags: ["gauges"],
      params: CheckPath,
      querystring: CheckQuery,
      response: {
        200: answer("Readings in doubt", DoubtedReadingList),
        ...problems({ 404: "There is no such check" }),
      },
    },
    handler: async ({ params, query }) => {
      const check = await findCheckOrRefuse(db, params);
      const [at = "0", batchId = "0", readingNo = "0"] = readCursor(query.cursor, 3);
      const limit = query.limit + 1;
      const rows =
        check.voided_at === null ? await listDoubted(db, check, { at, batchId, readingNo, limit }) : [];
      return toPage(
        rows,
        query.limit,
        (row) => [Date.parse(row.taken_at), row.batch_id, row.reading_no],
        toDoubted,
      );
    },
  });

  app.post("/gauges/:gauge_id/checks/:gauge_check_id/void", {
    schema: {
      operationId: "voidGaugeCheck",
      summary: "Take a check out of all that is decided",
      description:
        "Doubts that rested on it are gone. Readings that its error was taken off keep their size and are in doubt where another check shows the gauge off against that.",
      tags: ["gauges"],
      params: CheckPath,
      headers: WriteHeaders,
      body: VoidCreate,
      response: {
        200: answer("The voided check", GaugeCheckAnswer),
        ...problems({
          404: "There is no such check",
          409: "It is voided already, or the same request is still being worked on",
          422: "The Idempotency-Key belongs to another request",
        }),
      },
    },
    handler: (request, reply) =>
      write(request, reply, db, async (trx) => {
        const { params, body } = request;
        const gauge = await orRefuse(lockGauge(trx, params.gauge_id), params.gauge_id);
        await findCheckOrRefuse(trx, params);
        const row = await voidCheck(trx, params.gauge_check_id, { reason: body.reason, by: body.by ?? null });
        if (!row) throw new ProblemError("conflict", `Check ${params.gauge_check_id} is voided already.`);
        await doubtAfresh(trx, gauge.gauge_id, row.checked_at);
        return { status: 200, body: await withDoubt(trx, row, gauge) };
      }),
  });
}

const angles = { deg: "deg", arcmin: "arcmin", arcsec: "arcsec" } as const;
const units = {
  mm: "mm",
  inch: "inch",
  in: "inch",
  um: "µm",
  "\u00b5m": "µm",
  "\u03bcm": "µm",
  ...angles,
} as const;
const dayMs = 86_400_000;

async function createCheck(trx: Trx, gaugeId: string, body: GaugeCheckCreate) {
  const gauge = await orRefuse(lockGauge(trx, gaugeId), gaugeId);
  const checkedAt = body.at === undefined ? new Date() : new Date(body.at);
  if (checkedAt.getTime() > Date.now() + dayMs || checkedAt.getTime() < 0) {
    throw problemAt("unprocessable", [
      {
        pointer: "/at",
        detail: "lies more than a day ahead or before 1970: check the date and the offset from UTC",
      },
    ]);
  }
  const unit = units[body.unit];
  refuseUnsuited(gauge, unit);
  const pm = (value: string | number | undefined, field: string) => {
    const parsed = value === undefined ? 0 : parseMeasure(value, unit);
    if (parsed !== undefined && Math.abs(parsed) <= (unit in angles ? 360 * 3600e9 : 1e14)) return parsed;
    throw problemAt("unprocessable", [
      {
        pointer: `/${field}`,
        detail: `${value} ${unit} is beyond every size: check the unit and the decimal point`,
      },
    ]);
  };
  const view = gaugeView(gauge);
  const directionKnown = body.largest_error === undefined;
  const standardPm = pm(body.standard, "standard");
  const standardUncertaintyPm = pm(body.standard_uncertainty, "standard_uncertainty");
  const errorPm = directionKnown
    ? sizeShown(view, pm(body.reading, "reading")) - standardPm
    : pm(body.largest_error, "largest_error");
  const row = await insertCheck(trx, {
    gauge_id: gaugeId,
    checked_at: checkedAt.toISOString(),
    unit,
    standard_mm: directionKnown ? toNumeric(standardPm) : null,
    standard_uncertainty_mm: toNumeric(standardUncertaintyPm),
    reading_given: directionKnown ? String(body.reading) : null,
    error_mm: toNumeric(errorPm),
    direction_known: directionKnown,
    allowed_mm: toNumeric(allowedError(view.resolutionPm, view.expandedPm, standardUncertaintyPm)),
    variance: view.variance + (standardUncertaintyPm / 2e9) ** 2,
    shift: body.shift,
    note: body.note ?? null,
    by_name: body.by ?? null,
  });
  if (!row) {
    throw problemAt("conflict", [
      {
        pointer: "/at",
        detail:
          "the gauge has a check at that very instant: void that one if it is wrong, or send another time",
      },
    ]);
  }
  await doubtAfresh(trx, gaugeId, row.checked_at, true);
  return withDoubt(trx, row, gauge);
}

/** A check is a number in the gauge's own quantity. */
function refuseUnsuited(
  { name, unit: own, resolution_mm }: GaugeRow,
  unit: keyof typeof angles | LengthUnit,
): void {
  if (resolution_mm === null) {
    throw problemAt("unprocessable", [
      {
        pointer: "/unit",
        detail: `${name} passes or refuses and shows no number to be compared with a standard: where it is found worn, take it out of use, and GET /v1/readings?gauge_id=… lists what it has judged`,
      },
    ]);
  }
  if ((own === "deg") === unit in angles) return;
  throw problemAt("unprocessable", [
    {
      pointer: "/unit",
      detail:
        own === "deg"
          ? `must be "deg", "arcmin" or "arcsec": ${name} measures angles`
          : `must be "mm", "inch" or "um": ${name} measures lengths`,
    },
  ]);
}

async function orRefuse(found: Promise<GaugeRow | undefined>, gaugeId: string): Promise<GaugeRow> {
  const row = await found;
  if (!row) throw new ProblemError("not-found", `There is no gauge ${gaugeId}. GET /v1/gauges lists them.`);
  return row;
}

async function findCheckOrRefuse(
  db: Db,
  { gauge_id, gauge_check_id }: { gauge_id: string; gauge_check_id: string },
): Promise<CheckRow> {
  const row = await findCheck(db, gauge_id, gauge_check_id);
  if (row) return row;
  throw new ProblemError(
    "not-found",
    `Gauge ${gauge_id} has no check ${gauge_check_id}: GET /v1/gauges/${gauge_id}/checks lists them.`,
  );
}

function toCheck(row: CheckRow, gauge: GaugeRow): GaugeCheck {
  const size = (stored: string) => toUnit(fromNumeric(stored), row.unit);
  return {
    gauge_check_id: row.gauge_check_id,
    gauge_id: row.gauge_id,
    at: row.checked_at,
    unit: row.unit,
    standard: row.standard_mm === null ? null : size(row.standard_mm),
    standard_uncertainty: size(row.standard_uncertainty_mm),
    reading: row.reading_given === null ? null : toUnit(parseMeasure(row.reading_given, row.unit)!, row.unit),
    error: size(row.error_mm),
    direction_known: row.direction_known,
    allowed_error: size(row.allowed_mm),
    state: isCheckOff(row) ? "off" : "fit",
    shift: row.shift,
    why: explain(row, gauge),
    note: row.note,
    by: row.by_name,
    created_at: row.created_at,
    voided: showVoided(row),
  };
}

function isCheckOff(row: CheckRow): boolean {
  return Math.abs(fromNumeric(row.error_mm)) > fromNumeric(row.allowed_mm);
}

function explain(row: CheckRow, gauge: GaugeRow): string {
  const say = (stored: string | number) =>
    formatMeasure(typeof stored === "string" ? fromNumeric(stored) : stored, row.unit);
  const errorPm = fromNumeric(row.error_mm);
  const found = row.direction_known
    ? `${gauge.name} reads ${errorPm === 0 ? "exactly" : `${say(Math.abs(errorPm))} too ${errorPm > 0 ? "big" : "small"}`} on ${say(row.standard_mm ?? "0")}`
    : `${gauge.name} was found up to ${say(errorPm)} out, either way`;
  const basis = gauge.expanded_uncertainty_mm === null ? "one step of its display" : "its uncertainty";
  const allowed = `up to ${say(row.allowed_mm)} is what ${basis} leaves open`;
  if (!isCheckOff(row)) return `${found}; ${allowed}: fit.`;
  const cure = row.shift
    ? "its error is taken off what it reads from now on, until the next check"
    : "set the gauge afresh, not the machine, and check it again; until a good check its readings are flagged and accept nothing";
  return `${found}; ${allowed}: off. ${cure.charAt(0).toUpperCase()}${cure.slice(1)}. Measure again what it has measured since the check before.`;
}

async function withDoubt(db: Db, row: CheckRow, gauge: GaugeRow) {
  const batches = row.voided_at === null ? await sumUpDoubt(db, row) : [];
  const [first] = batches;
  return {
    ...toCheck(row, gauge),
    in_doubt: {
      since: await findCheckBefore(db, row.gauge_id, row.checked_at),
      readings: first?.all_readings ?? 0,
      turned: first?.all_turned ?? 0,
      open: first?.all_open ?? 0,
      batches: batches.map(({ all_readings, all_turned, all_open, all_batches, ...batch }) => batch),
      more_batches: (first?.all_batches ?? 0) - batches.length,
    },
  };
}

function toDoubted(row: Awaited<ReturnType<typeof listDoubted>>[number]): DoubtedReading {
  const unit = shownUnitOf(row.kind, row.unit) as Exclude<ShownUnit, "1">;
  const size = (pm: number) => toUnit(pm, unit);
  const sizePm = fromNumeric(row.value_mm);
  const limits = { lowerPm: optionalPm(row.lower_limit_mm), upperPm: optionalPm(row.upper_limit_mm) };
  const { fromPm, toPm, outcome } = judgeAgain(sizePm, limits, fromNumeric(row.left_mm), row.direction_known);
  return {
    reading_id: `${row.batch_id}-${row.reading_no}`,
    batch_id: row.batch_id,
    piece: row.piece,
    cut: row.cut,
    feature_id: row.feature_id,
    characteristic: row.characteristic,
    place: row.place,
    taken_at: row.taken_at,
    unit,
    size: size(sizePm),
    lower_limit: limits.lowerPm === undefined ? null : size(limits.lowerPm),
    upper_limit: limits.upperPm === undefined ? null : size(limits.upperPm),
    size_from: size(fromPm),
    size_to: size(toPm),
    outcome,
  };
}
