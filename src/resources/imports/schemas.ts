import { z } from "zod";
import { printedUnits } from "../../core/notation/read-unit.js";
import { Correction } from "../../decision/correction-wire.js";
import { CheckPlan, exampleOf, NextStep } from "../../decision/wire.js";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { Id, Name } from "../../http/types.js";
import { SaidByFile } from "../../import/wire.js";

const flag = (description: string) =>
  z
    .string()
    .refine((text) => text === "true" || text === "false", 'must be "true" or "false"')
    .default("false")
    .transform((text) => text === "true")
    .meta({ type: "boolean", default: false, description });
const whole = (least: number, most: number, description: string) =>
  z
    .string()
    .refine(
      (text) => /^\d{1,15}$/.test(text) && Number(text) >= least && Number(text) <= most,
      `must be a whole number from ${least} to ${most}`,
    )
    .transform(Number)
    .meta({ type: "integer", minimum: least, maximum: most, description });

const units = {
  unit: z
    .enum(printedUnits)
    .optional()
    .describe("Unit of values that bear none in this file; counts more than the layout's"),
  angle_unit: z
    .enum(["deg", "arcmin", "arcsec", "rad"])
    .optional()
    .describe("Format `qif`: unit of angles that bear none in this document; counts more than the layout's"),
};

export const ImportQuery = z
  .strictObject({
    layout_id: Id.optional().describe("How it is read"),
    layout: Name.optional().describe("Or the layout's name"),
    batch_id: Id.optional().describe("Batch of all its readings; absent: each says its own"),
    batch: Name.optional().describe("Or the batch's name"),
    gauge_id: Id.optional().describe("Gauge of readings that name none; absent: the feature's own"),
    gauge: Name.optional().describe("Or its name"),
    taken_by: Name.optional().describe("Who took them, where the file does not say"),
    first_piece: whole(
      1,
      10_000_000,
      "Piece of the first reading, or of the first new serial number, where the layout counts",
    ).optional(),
    ...units,
    source: Name.optional().describe("What people know the file by"),
    open: flag("True: more is to come (POST …/content), and a last line without its end waits for it"),
    dry_run: flag("True: nothing is kept; the answer says what would be"),
  })
  .superRefine((query, context) => {
    for (const [one, other] of [
      ["layout_id", "layout"],
      ["batch_id", "batch"],
      ["gauge_id", "gauge"],
    ] as const) {
      if (query[one] !== undefined && query[other] !== undefined) {
        context.addIssue({
          code: "custom",
          path: [other],
          message: `names it a second time: send it or ${one}`,
        });
      }
    }
    if (query.layout_id === undefined && query.layout === undefined) {
      context.addIssue({
        code: "custom",
        path: ["layout_id"],
        message: "is missing: say which layout the file has",
      });
    }
    if (query.dry_run && query.open) {
      context.addIssue({ code: "custom", path: ["open"], message: "has no sense in a dry run" });
    }
  });

export const ContentQuery = z.strictObject({
  offset: whole(
    0,
    Number.MAX_SAFE_INTEGER,
    "Where the body begins in the file, bytes from 0; not beyond the import's next_offset. What was read before is passed over",
  ),
  last: flag("True: the file ends here"),
});

export const RetryQuery = z.strictObject(units);

const Fault = z.strictObject({
  column: z.string().nullable().describe("Column of a wide table; null: the line has one value"),
  field: z.string().nullable().describe("Which field it is about; null: all of the line"),
  reason: z.string().describe("Why, and what to do"),
});

export const ImportLine = z
  .strictObject({
    line: z.number().int().describe("Line, from 1"),
    last_line: z.number().int().describe("The last one where there are several"),
    state: z
      .enum(["refused", "repeated", "not_measured", "mended"])
      .describe(
        "`repeated`: it says the very same as a line before, without a time or a number of its own, and was counted once; `mended`: refused at first, and read since",
      ),
    text: z.string().describe("What stands there"),
    reason: z.string().describe("Why it gave no reading"),
    faults: z.array(Fault).describe("The same value by value"),
  })
  .meta({
    id: "ImportLine",
    description: "A line that gave no reading",
    examples: [
      {
        line: 7,
        last_line: 7,
        state: "refused",
        text: "BORE-D   12,003",
        reason: "12,003 may mean 12.003 with a decimal comma, or 12003 with a comma between thousands",
        faults: [
          {
            column: null,
            field: "value",
            reason: "12,003 may mean 12.003 with a decimal comma, or 12003 with a comma between thousands",
          },
        ],
      },
    ],
  });

const count = (description: string) => z.number().int().describe(description);

const shape = {
  import_id: z.string().nullable().describe("Identity of the import; null: a dry run, which is not kept"),
  status: z
    .enum(["open", "complete", "failed"])
    .describe(
      "`open`: more is to come, or it was cut off and goes on at next_offset; `failed`: it can't be read to its end",
    ),
  reason: z.string().nullable().describe("Why it failed; null: it did not"),
  source: z.string().nullable().describe("What people know the file by"),
  layout_id: z.string().describe("How it is read"),
  batch_id: z.string().nullable().describe("Batch of all its readings; null: each says its own"),
  next_offset: count("Up to here its bytes are dealt with: where to go on"),
  lines: count("Lines dealt with"),
  accepted: count("Readings taken in"),
  duplicates: count("Readings that were there before"),
  repeated: count(
    "Readings that say the very same as one before in this file, and nothing that tells them apart; listed with the lines",
  ),
  not_measured: count("Values that the file says are missing"),
  refused_count: count("Lines that can't be read or taken, listed with the reason"),
  skipped: count("Lines that tell nothing of a reading"),
  verdicts: z
    .strictObject({
      conforming: count("Inside by the decision rule"),
      nonconforming: count("Outside"),
      uncertain: count("Neither"),
    })
    .describe("Verdicts on what was taken in, by the limits on the drawing"),
  results_differ: count(
    "Readings on which the file's own verdict, or its own limits, say other than the verdict here",
  ),
  limits_differ: count("Readings for which the file has other limits than the drawing"),
  started_at: z.iso.datetime().nullable().describe("When it began; null: a dry run"),
  moved_at: z.iso.datetime().nullable().describe("When it last came further"),
  ended_at: z.iso.datetime().nullable().describe("When it came to its end; null: not yet"),
};

const example = {
  import_id: "12",
  status: "complete",
  reason: null,
  source: "mill-2/probe.log",
  layout_id: "4",
  batch_id: "3",
  next_offset: 4711,
  lines: 121,
  accepted: 118,
  duplicates: 2,
  repeated: 0,
  not_measured: 0,
  refused_count: 1,
  skipped: 0,
  verdicts: { conforming: 117, nonconforming: 1, uncertain: 0 },
  results_differ: 0,
  limits_differ: 0,
  started_at: "2026-03-02T07:41:00.000Z",
  moved_at: "2026-03-02T07:41:01.000Z",
  ended_at: "2026-03-02T07:41:01.000Z",
} as const;

export const ReadingImport = z
  .strictObject(shape)
  .meta({ id: "ReadingImport", description: "How far an import has come", examples: [example] });

export const ImportAnswer = z
  .strictObject({
    ...shape,
    joined: count(
      "Readings of documents sent before that waited for what this one defines, and were taken in now",
    ),
    refused: z.array(ImportLine).describe("The first 100 lines that were refused by this request"),
    next: NextStep.nullable().describe("The one thing to do next; null: nothing was taken in"),
    corrections: z.array(Correction).describe("Advice as it stands after it"),
    next_checks: z.array(CheckPlan).describe("What to measure next"),
  })
  .meta({
    id: "ImportAnswer",
    description: "What became of a file",
    examples: [
      {
        ...example,
        joined: 0,
        refused: [exampleOf(ImportLine)],
        next: exampleOf(NextStep),
        corrections: [exampleOf(Correction)],
        next_checks: [exampleOf(CheckPlan)],
      },
    ],
  });

export const ImportList = pageOf("ReadingImportList", ReadingImport, "newest first");
export const ImportListQuery = z.strictObject({
  ...pageQuery,
  batch_id: Id.optional().describe("Only those into this batch"),
  source: Name.optional().describe("Only those of this source"),
  status: z.enum(["open", "complete", "failed"]).optional().describe("Only those that stand so"),
});
export const ImportPath = z.strictObject({ import_id: Id.describe("The import") });

export const ImportLineList = pageOf("ImportLineList", ImportLine, "in the order of the file");
export const ImportLineQuery = z.strictObject({
  ...pageQuery,
  state: z
    .enum(["refused", "repeated", "not_measured", "mended"])
    .optional()
    .describe("Only lines that stand so"),
});

const ImportedReading = z
  .strictObject({
    line: z.number().int().describe("Line of the file, from 1"),
    column: z.string().nullable().describe("Column of a wide table; null: the line has one value"),
    reading_id: z.string().describe("The reading"),
    characteristic: z.string().describe("Balloon number of its feature"),
    piece: z.number().int().describe("Piece"),
    value: z.string().nullable().describe("Value taken in; null: it said something else"),
    unit: z
      .enum(["mm", "µm", "nm", "inch", "µin", "deg", "arcmin", "arcsec", "rad"])
      .nullable()
      .describe("Its unit"),
    lower_limit: z
      .number()
      .nullable()
      .describe("Lower limit that it was judged by, in `limit_unit`; null: none"),
    upper_limit: z.number().nullable().describe("Upper limit"),
    limit_unit: z.enum(["mm", "inch", "deg", "µm", "µin"]).nullable().describe("Unit of the limits"),
    verdict: z
      .enum(["conforming", "nonconforming", "uncertain"])
      .describe("By these limits and the decision rule"),
    said: SaidByFile.describe("What the file says of it, beside ours"),
  })
  .meta({
    id: "ImportedReading",
    description: "A reading with what its file says of it",
    examples: [
      {
        line: 6,
        column: null,
        reading_id: "3-17",
        characteristic: "12",
        piece: 4,
        value: "7.938",
        unit: "mm",
        lower_limit: 7.95,
        upper_limit: 8.05,
        limit_unit: "mm",
        verdict: "nonconforming",
        said: {
          value: "7.938",
          nominal: "8.000",
          lower_limit: "7.950",
          upper_limit: "8.050",
          unit: "mm",
          within: false,
          result: "fail",
          result_text: "*OUT*",
          measured_at: "2026/03/11 06:42:17",
          tool: null,
          channel: null,
          record: "5",
          note: null,
          notes: [],
        },
      },
    ],
  });
export const ImportedReadingList = pageOf("ImportedReadingList", ImportedReading, "in the order of the file");
export const ImportedReadingQuery = z.strictObject(pageQuery);
