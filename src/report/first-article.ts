import { csvCell, csvSize } from "../core/notation/csv-cell.js";
import { type Block, left, type Printed, sayInstant, table } from "./blocks.js";

/** What is printed of a first article; the fields by the names that SAE AS9102 gives them. */
export interface PrintedFirstArticle {
  part_number: string;
  revision: string;
  part_name: string | null;
  report_number: string;
  extent: "full" | "partial";
  reason: string;
  note: string | null;
  pieces: { batch: string; operation: string | null; piece: number }[];
  fields: Record<string, unknown>;
  decision_rules: string[];
  characteristics: {
    characteristic: string;
    name: string | null;
    drawing_zone: string | null;
    designator: string | null;
    requirement: string;
    unit: string | null;
    results: { place: string | null; result: string; allowed: string | null; verdict: string }[];
    status: string;
    why: string;
    tooling: string | null;
    nonconformance: string | null;
  }[];
  complete: boolean;
  why: string;
  followed_by: { report_number: string }[];
  created_at: string;
  voided: { reason: string } | null;
}

type Lines = Record<string, string | null | undefined>[];

export function printFirstArticle(article: PrintedFirstArticle, edition: "b" | "c"): Printed {
  const title = `First article ${article.report_number}, part ${article.part_number} revision ${article.revision}`;
  return { title, madeAt: article.created_at, blocks: layOut(article, edition) };
}

function* layOut(article: PrintedFirstArticle, edition: "b" | "c"): Generator<Block> {
  const { fields } = article;
  const field = (name: string) => (typeof fields[name] === "string" ? (fields[name] as string) : "");
  yield {
    kind: "title",
    text: `First-article inspection report ${article.report_number}`,
    below: article.part_name ?? "",
  };
  if (article.voided) yield { kind: "paragraph", text: `Voided: ${article.voided.reason}` };
  yield { kind: "heading", text: "Part" };
  yield {
    kind: "facts",
    items: [
      ["Part number", article.part_number],
      ["Part name", article.part_name ?? ""],
      ["Serial number", field("serial_number")],
      ["Part revision", article.revision],
      ["Drawing number", field("drawing_number") || article.part_number],
      ["Drawing revision", field("drawing_revision") || article.revision],
      ["Additional changes", field("additional_changes")],
      ["Process reference", field("process_reference")],
      ["Organization", field("organization")],
      ["Supplier code", field("supplier_code")],
      ["Purchase order", field("purchase_order")],
      ["Detail or assembly", field("part_type")],
      ["Full or partial", article.extent],
      ["Baseline part", field("baseline_part")],
      ["Reason", [article.reason.replaceAll("_", " "), article.note].filter(Boolean).join(": ")],
      [
        "Pieces",
        article.pieces
          .map(
            ({ batch, operation, piece }) =>
              `${batch}${operation === null ? "" : ` (operation ${operation})`} piece ${piece}`,
          )
          .join("; "),
      ],
      ["Completed by", article.followed_by.map(({ report_number }) => report_number).join(", ")],
      ["Entered", sayInstant(article.created_at)],
    ],
  };
  yield { kind: "paragraph", text: article.why };
  const assembly = (fields.assembly_parts ?? []) as Lines;
  if (assembly.length > 0) {
    yield { kind: "heading", text: "Parts of the assembly" };
    yield table(
      [
        left("Part number", 20),
        left("Part name", 30),
        left("Serial number", 20),
        left("First-article report", 20),
      ],
      assembly.map((one) =>
        [one.part_number, one.part_name, one.serial_number, one.report_number].map(textOr),
      ),
    );
  }
  yield { kind: "signatures", roles: ["Prepared by", "Reviewed by", "Approved by the customer"] };
  yield* layOutProduct(fields);
  yield { kind: "heading", text: "Characteristics" };
  for (const text of article.decision_rules) yield { kind: "paragraph", text };
  yield table(
    [
      left("No.", 5),
      left("Zone", 8),
      left("Designator", 8),
      left("Name", 14),
      left("Requirement", 22),
      left("Result", 16),
      left("Conforms", 9),
      left("Tooling", 12),
      left("Nonconformance", 12),
      left("Remark", 18),
    ],
    article.characteristics.map((line) => [
      line.characteristic,
      line.drawing_zone ?? "",
      line.designator ?? "",
      line.name ?? "",
      line.requirement,
      sayResults(line),
      { conforming: "yes", nonconforming: "NO", open: "not decided", not_measured: "NOT MEASURED" }[
        line.status
      ] ?? line.status,
      line.tooling ?? "",
      line.nonconformance ?? "",
      line.status === "conforming" ? "" : line.why,
    ]),
  );
  if (edition === "b")
    yield { kind: "signatures", roles: ["Inspected by", "Reviewed by", "Approved by the customer"] };
}

function* layOutProduct(fields: Record<string, unknown>): Generator<Block> {
  yield { kind: "heading", text: "Materials, special processes and functional tests" };
  const lines = [
    ...((fields.materials ?? []) as Lines).map((line) => ["material", line] as const),
    ...((fields.processes ?? []) as Lines).map((line) => ["process", line] as const),
  ];
  if (lines.length === 0) yield { kind: "paragraph", text: "No material or special process was entered." };
  else {
    yield table(
      [
        left("What", 8),
        left("Name", 22),
        left("Specification", 20),
        left("Code", 10),
        left("Supplier", 16),
        left("Customer approved", 10),
        left("Certificate", 16),
      ],
      lines.map(([what, line]) => [
        what,
        ...[
          line.name,
          line.specification,
          line.code,
          line.supplier,
          line.customer_approved?.replaceAll("_", " "),
          line.certificate,
        ].map(textOr),
      ]),
    );
  }
  const tests = (fields.functional_tests ?? []) as Lines;
  if (tests.length === 0) yield { kind: "paragraph", text: "No functional test was entered." };
  else {
    yield table(
      [left("Acceptance procedure", 30), left("Report", 30)],
      tests.map((test) => [test.procedure, test.report].map(textOr)),
    );
  }
  if (typeof fields.comments === "string") yield { kind: "paragraph", text: fields.comments };
}

/** "6.04 mm", or of several places "top 6.04; bottom 6.05 mm" */
function sayResults({ results, unit }: PrintedFirstArticle["characteristics"][number]): string {
  if (results.length === 0) return "";
  const said = results
    .map(({ place, result, allowed }) =>
      [place, result, allowed && `(allowed ${allowed})`].filter(Boolean).join(" "),
    )
    .join("; ");
  return unit === null || unit === "deg" ? said : `${said} ${unit}`;
}

const columns = [
  "report_number",
  "part_number",
  "revision",
  "characteristic",
  "drawing_zone",
  "designator",
  "name",
  "requirement",
  "place",
  "result",
  "unit",
  "verdict",
  "status",
  "tooling",
  "nonconformance",
  "why",
];

/** One row for each result, and one for each characteristic that has none. RFC 4180. */
export function* tabulateFirstArticle(article: PrintedFirstArticle): Generator<string> {
  yield `\uFEFF${columns.join(",")}\r\n`;
  for (const line of article.characteristics) {
    const results = line.results.length > 0 ? line.results : [{ place: null, result: null, verdict: null }];
    for (const { place, result, verdict } of results) {
      const before = [
        article.report_number,
        article.part_number,
        article.revision,
        line.characteristic,
        line.drawing_zone,
        line.designator,
        line.name,
        line.requirement,
        place,
      ];
      const after = [line.unit, verdict, line.status, line.tooling, line.nonconformance, line.why];
      yield `${[...before.map(text), csvSize(result), ...after.map(text)].join(",")}\r\n`;
    }
  }
}

/** Numbers of parts, reports and characteristics stay texts: 1.10 must not become 1.1. */
function text(value: string | null): string {
  return csvCell(value, { keepText: true });
}

function textOr(text: string | null | undefined): string {
  return text ?? "";
}
