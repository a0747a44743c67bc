import { z } from "zod";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { Id, strict } from "../../http/types.js";
import { compileLayout } from "../../import/compile-layout.js";
import { LayoutShape } from "../../import/layout.js";
import { SaidByFile, UnderstoodReading } from "../../import/wire.js";

const example = {
  name: "probe print of mill-2",
  format: "text",
  unit: "mm",
  time_zone: "Europe/Berlin",
  rules: [
    { kind: "context", pattern: "^PART (?P<serial>\\S+)" },
    { kind: "record", pattern: "^(?P<characteristic>\\S+) +(?P<value>[-+.\\d]+)$" },
    { kind: "skip", pattern: "^%$" },
  ],
  translate: { characteristic: { "BORE-D": "12" } },
  piece_from: "serial",
} as const;

export const LogLayoutCreate = LayoutShape.superRefine((layout, context) => {
  for (const { path, message } of compileLayout(layout).faults) {
    context.addIssue({ code: "custom", path, message });
  }
}).meta({
  id: "LogLayoutCreate",
  description: "How a text log, a table or a gauge's lines are read",
  examples: [example],
});

export const LogLayout = z
  .strictObject({
    layout_id: z.string().describe("Identity of the layout"),
    version: z.number().int().describe("1, and one more with each change"),
    created_at: z.iso.datetime().describe("When it was first described"),
    changed_at: z.iso.datetime().describe("When it was changed last"),
    layout: LayoutShape.describe("The description, defaults filled in"),
  })
  .meta({
    id: "LogLayout",
    description: "A layout as it is kept",
    examples: [
      {
        layout_id: "4",
        version: 1,
        created_at: "2026-03-02T07:41:00.000Z",
        changed_at: "2026-03-02T07:41:00.000Z",
        layout: LayoutShape.parse(example),
      },
    ],
  });

export const LogLayoutList = pageOf("LogLayoutList", LogLayout);
export const LogLayoutQuery = z.strictObject(pageQuery);
export const LogLayoutPath = z.strictObject({ layout_id: Id.describe("The layout") });

const longestSample = 200_000;

export const LogLayoutTrialCreate = strict({
  layout: LogLayoutCreate.optional().describe("A layout that need not be kept yet"),
  layout_id: Id.optional().describe("Or one that is"),
  sample: z.string().max(longestSample).optional().describe("Some lines of the file, as text"),
  sample_base64: z
    .string()
    .max(longestSample)
    .regex(/^[A-Za-z0-9+/]*={0,2}$/, "is no base64")
    .optional()
    .describe("Or its bytes, where they are no plain text"),
})
  .refine(({ layout, layout_id }) => (layout === undefined) !== (layout_id === undefined), {
    error: 'needs either "layout" or "layout_id"',
    path: ["layout"],
  })
  .refine(({ sample, sample_base64 }) => (sample === undefined) !== (sample_base64 === undefined), {
    error: 'needs either "sample" or "sample_base64"',
    path: ["sample"],
  })
  .meta({
    id: "LogLayoutTrialCreate",
    description: "A layout and a sample to try it on",
    examples: [{ layout: example, sample: "%\nPART 0418\nBORE-D   12.003\n%\n" }],
  });

export const LogLayoutTrial = z
  .strictObject({
    readings: z.number().int().describe("How many readings it would give"),
    refused: z.number().int().describe("How many lines or values can't be read"),
    not_measured: z.number().int().describe("How many say that there is no value"),
    unreadable: z
      .string()
      .nullable()
      .describe("Why nothing is read from some place on, or at all; null: all of it can be looked at"),
    lines: z
      .array(
        z.strictObject({
          line: z.number().int().describe("Line, from 1"),
          last_line: z.number().int().describe("The last one where there are several"),
          column: z.string().nullable().describe("Column of a wide table; null: the line has one value"),
          text: z.string().describe("What stands there"),
          becomes: z.enum(["reading", "skipped", "refused", "not_measured"]).describe("What it would become"),
          why: z.string().nullable().describe("Why it becomes no reading"),
          reading: UnderstoodReading.nullable().describe("What is understood; null: no reading"),
          said: SaidByFile.nullable().describe("What it says beside the value; null: no reading"),
        }),
      )
      .describe("Line by line, empty ones left out"),
  })
  .meta({
    id: "LogLayoutTrial",
    description: "What a layout makes of a sample",
    examples: [
      {
        readings: 1,
        refused: 0,
        not_measured: 0,
        unreadable: null,
        lines: [
          {
            line: 3,
            last_line: 3,
            column: null,
            text: "BORE-D   12.003",
            becomes: "reading",
            why: null,
            reading: {
              characteristic: "12",
              part_number: null,
              revision: null,
              batch: null,
              piece: null,
              serial: "0418",
              cut: null,
              seat: null,
              place: null,
              value: "12.003",
              unit: "mm",
              dx: null,
              dy: null,
              dz: null,
              size: null,
              result: null,
              count: null,
              gauge: null,
              measured_at: null,
              taken_by: null,
              temperature_c: null,
              gauge_temperature_c: null,
              cut_with: [],
            },
            said: {
              value: "12.003",
              nominal: null,
              lower_limit: null,
              upper_limit: null,
              unit: null,
              within: null,
              result: null,
              result_text: null,
              measured_at: null,
              tool: null,
              channel: null,
              record: null,
              note: null,
              notes: [],
            },
          },
        ],
      },
    ],
  });
