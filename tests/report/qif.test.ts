import { describe, expect, it } from "vitest";
import { renderQif } from "../../src/report/qif.js";
import type { Characteristic, Report, ReportPiece, ReportResult } from "../../src/report/report.js";
import { checkQif } from "../support/check-qif.js";

const characteristic = (of: number): Characteristic => ({
  feature_id: String(of),
  characteristic: String(of),
  name: null,
  kind: "external",
  geometric_characteristic: null,
  nominal: "20.000",
  requirement: "20 ±0.05",
  lower_limit: "19.950",
  upper_limit: "20.050",
  unit: "mm",
  importance: "ordinary",
  decision_rule: "simple",
  limits_of: null,
  places: null,
});

const result = (of: number, said: Partial<ReportResult> = {}): ReportResult => ({
  reading_id: "1",
  of,
  characteristic: String(of),
  place: null,
  cut: 1,
  value: "20.01",
  unit: "mm",
  result: "20.01",
  lower_limit: "19.950",
  upper_limit: "20.050",
  bonus: null,
  verdict: "conforming",
  disposition: "accept",
  expanded_uncertainty: null,
  gauge: null,
  taken_by: null,
  measured_at: null,
  received_at: "2026-03-02T07:41:00.000Z",
  flags: [],
  decides: true,
  ...said,
});

const piece = (number: number, results: ReportResult[], serials: string[] = []): ReportPiece => ({
  piece: number,
  serials,
  seat: null,
  disposition: "accept",
  on_hold: false,
  why: "",
  results,
  not_measured: [],
});

/** A report whose pieces are read twice, and may have changed in between. */
function report(first: ReportPiece[], second = first, characteristics = 2): Report {
  let times = 0;
  return {
    head: {
      batch: {
        batch_id: "1",
        name: "B & 1",
        operation: null,
        quantity: null,
        pieces_cut: 3,
        machine: "mill-2",
        begun_at: "2026-03-02T07:00:00.000Z",
        closed_at: null,
        closed_by: null,
      },
      part: {
        number: "HB-1",
        revision: "A",
        name: null,
        unit: "mm",
        material: null,
        decision_rule: "simple",
      },
      made_at: "2026-03-02T08:00:00.000Z",
      decision_rules: ["A size on its limit conforms."],
      cautions: [],
      characteristics: Array.from({ length: characteristics }, (_, of) => characteristic(of)),
      gauges: [],
      registers: [],
      edges: [],
      interruptions: [],
      holds: [],
      on_hold: [],
      decisions: [],
      capability: [],
      check_plan: [],
      readings: { counted: 0, voided: 0 },
    },
    pictures: [],
    bands: async function* () {
      yield times++ === 0 ? first : second;
    },
  };
}

async function write(from: Report): Promise<string> {
  let text = "";
  for await (const part of renderQif(from)) text += part;
  return text;
}

describe("a QIF document of a batch that goes on", () => {
  const before = [piece(1, [result(0)]), piece(2, [result(0), result(1)])];

  it("leaves to the next one what has come while it was written, and stays sound", async () => {
    const later = [
      piece(1, [result(0), result(1, { result: "20.02" }), result(0, { cut: 2 })]),
      ...before.slice(1),
      piece(3, [result(0)]),
    ];

    const text = await write(report(before, later));

    expect(checkQif(text)).toEqual([]);
    expect(text.match(/<Value>/g)).toHaveLength(3);
    expect(text).not.toContain("20.02");
  });

  it("keeps empty what was voided while it was written, and stays sound", async () => {
    const text = await write(report(before, [piece(1, []), piece(2, [result(1)])]));

    expect(checkQif(text)).toEqual([]);
    expect(text).toContain('<MeasurementResultsSet n="2">');
    expect(text.match(/<Value>/g)).toHaveLength(1);
  });

  it("gives a serial number only where there is one and no other", async () => {
    const text = await write(
      report([piece(1, [result(0)], ["S1"]), piece(2, [result(0)], ["S2", "S3"]), piece(3, [result(0)])]),
    );

    expect([...text.matchAll(/<SerialNumber>(.*?)</g)].map(([, serial]) => serial)).toEqual(["S1"]);
    expect(text.match(/<SampleNumber>/g)).toHaveLength(3);
    expect(text).toContain("<LotNumber>B &amp; 1</LotNumber>");
  });

  it("tells the cuts of a piece apart", async () => {
    const text = await write(
      report([piece(1, [result(0, { verdict: "nonconforming", decides: false }), result(0, { cut: 2 })])]),
    );

    expect(checkQif(text)).toEqual([]);
    expect(text.match(/<MeasurementResults /g)).toHaveLength(2);
    expect(text.match(/<ActualComponent /g)).toHaveLength(1);
  });
});
