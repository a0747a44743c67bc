import { z } from "zod";
import { Piece, Voided } from "../../http/journal.js";
import { pageOf, pageQuery } from "../../http/pagination.js";
import { Id, Instant, Name, strict, Text } from "../../http/types.js";

const reasons = {
  first_production: "the part has not been made before",
  design_change: "the drawing changed",
  source_change: "another source makes it",
  process_change: "the process changed",
  inspection_method_change: "it is inspected in another way",
  place_change: "it is made in another place",
  tooling_change: "tooling changed",
  material_change: "the material changed",
  program_change: "the NC programme or its translation changed",
  natural_or_man_made_event: "an event may have harmed the process",
  corrective_action: "an earlier report left something to be put right",
  lapse_in_production: "it was not made for two years",
  other: "as the note says",
} as const;
type Reasons = keyof typeof reasons;
const Reason = z.enum(Object.keys(reasons) as [Reasons, ...Reasons[]]).describe(
  `Why it is made: ${Object.entries(reasons)
    .map(([name, words]) => `\`${name}\`: ${words}`)
    .join("; ")}`,
);
const Extent = z.enum(["full", "partial"]).describe("All characteristics, or those that a change may affect");

const Line = strict({
  name: Name.describe("Material, process or treatment"),
  specification: Name.nullish().describe("Specification that it goes by"),
  code: Name.nullish().describe("Code of the specification or of the customer"),
  supplier: Name.nullish().describe("Who supplies or does it"),
  customer_approved: z
    .enum(["yes", "no", "not_applicable"])
    .nullish()
    .describe("Whether the customer approved the source"),
  certificate: Name.nullish().describe("Number of the certificate of conformance"),
});
const Test = strict({
  procedure: Name.describe("Number of the acceptance procedure"),
  report: Name.nullish().describe("Number of the report"),
});
const AssemblyPart = strict({
  part_number: Name.describe("Number of a part of the assembly"),
  part_name: Name.nullish().describe("Its name"),
  serial_number: Name.nullish().describe("Its serial number"),
  report_number: Name.nullish().describe("Number of its own first-article report"),
});

const Fields = strict({
  part_type: z.enum(["detail", "assembly"]).default("detail").describe("A single part or an assembly"),
  serial_number: Name.nullish().describe("Serial number of the part"),
  drawing_number: Name.nullish().describe("Number of the drawing; absent: the part's number"),
  drawing_revision: Name.nullish().describe("Revision of the drawing; absent: the part's revision"),
  additional_changes: Text.nullish().describe("Changes that count but are not yet in the drawing"),
  process_reference: Name.nullish().describe("Number of the router, plan or programme by which it is made"),
  organization: Name.nullish().describe("Who makes it"),
  supplier_code: Name.nullish().describe("The maker's code at the customer"),
  purchase_order: Name.nullish().describe("Number of the purchase order"),
  baseline_part: Name.nullish().describe("Of a partial one: number and revision of the part it builds on"),
  materials: z.array(Line).max(100).default([]).describe("Materials"),
  processes: z.array(Line).max(100).default([]).describe("Special processes"),
  functional_tests: z.array(Test).max(100).default([]).describe("Functional tests"),
  assembly_parts: z.array(AssemblyPart).max(500).default([]).describe("Parts of the assembly"),
  comments: Text.nullish().describe("What else is to be said"),
});
export type Fields = z.infer<typeof Fields>;

const Remark = strict({
  characteristic: Name.describe("Balloon number"),
  tooling: Name.nullish().describe(
    "Tooling made or qualified for it, where it is accepted by pass or fail; no ordinary gauge",
  ),
  nonconformance: Name.nullish().describe("Number of the nonconformance report, where it does not conform"),
}).refine(
  ({ tooling, nonconformance }) => Boolean(tooling ?? nonconformance),
  "says nothing: send tooling or nonconformance",
);

export const FirstArticleCreate = strict({
  part_id: Id.describe("The part, at its revision"),
  report_number: Name.describe("Number of the report; each only once"),
  extent: Extent,
  reason: Reason,
  note: Text.nullish().describe("What exactly; needed where the reason is `other`"),
  baseline_id: Id.nullish().describe("Of a partial one: the first article that it completes or updates"),
  pieces: z
    .array(strict({ batch_id: Id.describe("A batch of the part"), piece: Piece.describe("The piece of it") }))
    .min(1)
    .max(50)
    .describe("The very part: its piece number in the batch of each operation"),
  characteristics: z
    .array(Name)
    .min(1)
    .max(5000)
    .nullish()
    .describe("Of a partial one: the balloon numbers it covers"),
  remarks: z.array(Remark).max(5000).default([]).describe("Tooling and nonconformances by characteristic"),
  fields: Fields.prefault({}).describe(
    "What people fill in about the part, its materials, processes and tests",
  ),
  by: Name.nullish().describe("Who enters it"),
})
  .superRefine((body, context) => {
    const refuse = (field: string, message: string) =>
      context.addIssue({ code: "custom", path: [field], message });
    const partial = body.extent === "partial";
    if (partial && !body.characteristics)
      refuse("characteristics", "is missing: name what the partial one covers");
    if (!partial && body.characteristics)
      refuse("characteristics", "belongs to a partial one: a full one covers all, so leave it out");
    if (partial && !body.baseline_id && !body.fields.baseline_part) {
      refuse(
        "baseline_id",
        "is missing: a partial one builds on a first article, or on a part named in fields.baseline_part",
      );
    }
    if (!partial && body.baseline_id) refuse("baseline_id", "belongs to a partial one: leave it out");
    if (body.reason === "other" && !body.note) refuse("note", "is missing: say what the reason is");
    for (const [list, names] of [
      ["remarks", body.remarks.map(({ characteristic }) => characteristic)],
      ["characteristics", body.characteristics ?? []],
    ] as const) {
      names.forEach((name, index) => {
        if (names.indexOf(name) === index) return;
        context.addIssue({
          code: "custom",
          path: [list, index],
          message: `"${name}" stands here twice: leave one out`,
        });
      });
    }
  })
  .meta({
    id: "FirstArticleCreate",
    description: "A first article: what is to be said beyond what was measured",
    examples: [
      {
        part_id: "8",
        report_number: "FA-31",
        extent: "full" as const,
        reason: "first_production" as const,
        pieces: [{ batch_id: "3", piece: 1 }],
        remarks: [{ characteristic: "17", tooling: "plug gauge PG-12" }],
        fields: { purchase_order: "PO-881", serial_number: "0001" },
        by: "quality",
      },
    ],
  });
export type FirstArticleCreate = z.infer<typeof FirstArticleCreate>;

const text = (about: string) => z.string().describe(about);
const optional = (about: string) => z.string().nullable().describe(about);

const Status = z
  .enum(["conforming", "nonconforming", "open", "not_measured"])
  .describe(
    "`conforming`: every place of it is measured good on this piece; `nonconforming`: it failed and no later cut is proved good; `open`: measured, but not decided; `not_measured`: this piece has no reading of it",
  );

const Characteristic = z.strictObject({
  characteristic: text("Balloon number"),
  name: optional("Its name"),
  drawing_zone: optional("Where on the drawing it stands"),
  designator: z.enum(["key", "critical"]).nullable().describe("How the drawing marks it; null: not"),
  requirement: text("What the drawing asks for"),
  unit: optional("Unit of its results"),
  results: z
    .array(
      z.strictObject({
        place: optional("Where on the feature"),
        result: text("As measured, not rounded; or whether it passed"),
        allowed: optional(
          "What was allowed with the bonus that its size earned; null: what the drawing gives",
        ),
        verdict: z.enum(["conforming", "nonconforming", "uncertain"]).describe("By the decision rule"),
        gauge: optional("Gauge that took it"),
        reading_id: text("The reading"),
      }),
    )
    .describe("The reading that counts for each place"),
  status: Status,
  why: text("The same in words"),
  tooling: optional("Tooling made or qualified for it"),
  nonconformance: optional(
    "Number of the nonconformance report: entered here, or with the decision about the piece",
  ),
});
export type FirstArticleLine = z.infer<typeof Characteristic>;

export const FirstArticle = z
  .strictObject({
    first_article_id: text("Identity"),
    part_id: text("The part"),
    part_number: text("Its number"),
    revision: text("Its revision"),
    part_name: optional("Its name"),
    report_number: text("Number of the report"),
    extent: Extent,
    reason: Reason,
    note: optional("What exactly"),
    baseline_id: optional("The first article that a partial one completes or updates"),
    pieces: z
      .array(
        z.strictObject({
          batch_id: text("The batch"),
          batch: text("Its name"),
          operation: optional("Its operation"),
          piece: z.number().int().describe("The piece"),
        }),
      )
      .describe("The part, in the batch of each operation"),
    fields: z.record(z.string(), z.unknown()).describe("What people filled in"),
    decision_rules: z.array(z.string()).describe("How it was decided what conforms"),
    characteristics: z.array(Characteristic).describe("Every characteristic that it covers, none left out"),
    complete: z
      .boolean()
      .describe("True: every characteristic conforms here, or on a later partial one that builds on this"),
    why: text("Whether it is complete, and what is missing, in words"),
    still_open: z.array(z.string()).describe("Balloon numbers that keep it from being complete"),
    followed_by: z
      .array(
        z.strictObject({
          first_article_id: text("A partial one that builds on this"),
          report_number: text("Its number"),
        }),
      )
      .describe("Partial ones that build on it, oldest first"),
    by: optional("Who entered it"),
    created_at: z.iso.datetime().describe("When"),
    voided: Voided,
  })
  .meta({
    id: "FirstArticle",
    description: "A first-article report in the fields that SAE AS9102 asks for, in a layout of our own",
    examples: [
      {
        first_article_id: "1",
        part_id: "8",
        part_number: "HB-2041",
        revision: "B",
        part_name: "Bearing housing",
        report_number: "FA-31",
        extent: "full" as const,
        reason: "first_production" as const,
        note: null,
        baseline_id: null,
        pieces: [{ batch_id: "3", batch: "B-118", operation: "20", piece: 1 }],
        fields: { part_type: "detail", purchase_order: "PO-881", serial_number: "0001" },
        decision_rules: [
          "Simple acceptance: a size inside or on its limits conforms, whatever the uncertainty of the gauge (ISO 14253-1 wants that agreed; JCGM 106).",
        ],
        characteristics: [
          {
            characteristic: "12",
            name: "Tongue width",
            drawing_zone: "sheet 2, B4",
            designator: "key" as const,
            requirement: "6 ± 0.05",
            unit: "mm",
            results: [
              {
                place: null,
                result: "6.04",
                allowed: null,
                verdict: "conforming" as const,
                gauge: "micrometer 0-25 no. 3",
                reading_id: "3-1",
              },
            ],
            status: "conforming" as const,
            why: "Measured good.",
            tooling: null,
            nonconformance: null,
          },
        ],
        complete: true,
        why: "Complete: 1 of 1 characteristics conform.",
        still_open: [],
        followed_by: [],
        by: "quality",
        created_at: "2026-03-02T09:00:00.000Z",
        voided: null,
      },
    ],
  });
export type FirstArticle = z.infer<typeof FirstArticle>;

const Summary = z
  .strictObject({
    first_article_id: text("Identity"),
    part_id: text("The part"),
    report_number: text("Number of the report"),
    extent: Extent,
    reason: Reason,
    baseline_id: optional("The first article that a partial one builds on"),
    by: optional("Who entered it"),
    created_at: z.iso.datetime().describe("When"),
    voided: Voided,
  })
  .meta({
    id: "FirstArticleSummary",
    description: "A first article, without its characteristics",
    examples: [
      {
        first_article_id: "1",
        part_id: "8",
        report_number: "FA-31",
        extent: "full" as const,
        reason: "first_production" as const,
        baseline_id: null,
        by: "quality",
        created_at: "2026-03-02T09:00:00.000Z",
        voided: null,
      },
    ],
  });
export const FirstArticleList = pageOf("FirstArticleList", Summary);

export const FirstArticlePath = strict({ first_article_id: Id.describe("The first article") });
export const FirstArticleQuery = strict({
  format: z.enum(["json", "html", "pdf", "csv"]).default("json").describe("In which form"),
  paper: z.enum(["a4", "letter"]).default("a4").describe("Of the PDF; it lies across"),
  edition: z
    .enum(["b", "c"])
    .default("c")
    .describe(
      "Revision of AS9102 that the customer goes by: `b` has signatures below the characteristics as well",
    ),
});
export const FirstArticlesQuery = strict({
  part_id: Id.optional().describe("Only those of this part"),
  ...pageQuery,
});

export const DuePath = strict({ part_id: Id.describe("The part") });
export const DueQuery = strict({
  at: Instant.optional().describe("When production is to begin again; absent: now"),
});
export const Due = z
  .strictObject({
    part_id: text("The part"),
    due: z.boolean().describe("True: make one before the parts are delivered"),
    extent: Extent.nullable().describe("Which; null: none is due"),
    reasons: z
      .array(z.strictObject({ reason: Reason, why: text("Why, in words") }))
      .describe(
        "What calls for it, as far as the service knows: what it does not know of, people have to judge",
      ),
    last_first_article_id: optional("The latest full one of this revision; null: none"),
    last_produced_at: optional("When the last piece was measured; null: none was"),
  })
  .meta({
    id: "FirstArticleDue",
    description: "Whether a first article is due",
    examples: [
      {
        part_id: "8",
        due: true,
        extent: "partial" as const,
        reasons: [
          {
            reason: "lapse_in_production" as const,
            why: "The last piece was measured on 2024-01-10, 26 months before: after two years without production the first article is updated for the characteristics that the pause may affect.",
          },
        ],
        last_first_article_id: "1",
        last_produced_at: "2024-01-10T09:00:00.000Z",
      },
    ],
  });
export type Due = z.infer<typeof Due>;

const Binary = z.string().meta({ format: "binary" });
/** The report in each form it can be asked for. */
export const describeFirstArticle = {
  description: "The report, in the form asked for",
  content: {
    "application/json": { schema: FirstArticle },
    "text/html": { schema: Binary },
    "application/pdf": { schema: Binary },
    "text/csv": { schema: Binary },
  },
};
