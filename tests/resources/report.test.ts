import { getDocument } from "pdfjs-dist/legacy/build/pdf.mjs";
import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, gaugeBody } from "../support/shop.js";

const { api } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

/**
 * Twelve pieces of two characteristics: the width on some, with a bad piece, one cut again and a misreading; the slot never by a
 * gauge that proves it but once.
 */
async function measuredBatch(part: object = {}) {
  const shop = await runningBatch(api, {
    quantity: 12,
    part,
    features: [
      {
        characteristic: "12",
        name: "Tongue width",
        nominal: "12",
        lower_deviation: -0.03,
        upper_deviation: 0.03,
      },
      {
        characteristic: "13",
        name: '=HYPERLINK("x") <b>slot</b>',
        kind: "internal",
        nominal: "16",
        lower_deviation: -0.05,
        upper_deviation: 0.05,
      },
    ],
  });
  const slot = shop.part.features[1].feature_id;
  await shop.read(1, "12.001", { serial: "=1+1" });
  await shop.read(1, "16.0100", { feature_id: slot });
  await shop.read(2, "0.4725", { unit: "inch" });
  await shop.read(3, "12.0400");
  await shop.read(3, "12.0400");
  await shop.read(3, "12.010", { cut: 2 });
  await shop.read(6, "11.998", { taken_by: "-shift" });
  await shop.read(12, "12.020");
  return { ...shop, slot, path: `/v1/batches/${shop.batch.batch_id}` };
}

async function report(path: string, query = ""): Promise<Answer> {
  const response = await api.get(`${path}/report${query}`);
  expect(response.status, response.text).toBe(200);
  return response;
}

async function pdfOf(path: string): Promise<{ pages: string[][]; text: string }> {
  const response = await api.get(`${path}/report?format=pdf`).responseType("blob");
  expect(response.headers["content-type"]).toBe("application/pdf");
  const doc = await getDocument({ data: new Uint8Array(response.body), verbosity: 0 }).promise;
  const pages: string[][] = [];
  for (let number = 1; number <= doc.numPages; number++) {
    const { items } = await (await doc.getPage(number)).getTextContent();
    pages.push(items.flatMap((item) => ("str" in item && item.str.trim() !== "" ? [item.str] : [])));
  }
  return { pages, text: pages.flat().join("\n") };
}

describe("GET /v1/batches/{batch_id}/report", () => {
  it("shows values digit for digit as they were measured, and in the drawing's unit what was not measured in it", async () => {
    const shop = await measuredBatch();

    const { body } = await report(shop.path);

    const results = body.pieces.flatMap((piece: Answer) => piece.results);
    expect(results.map((r: Answer) => [r.value, r.unit, r.result])).toEqual([
      ["12.001", "mm", "12.001"],
      ["16.0100", "mm", "16.0100"],
      ["0.4725", "inch", "12.0015"], // 25.4 mm exactly
      ["12.0400", "mm", "12.0400"],
      ["12.0400", "mm", "12.0400"],
      ["12.010", "mm", "12.010"],
      ["11.998", "mm", "11.998"],
      ["12.020", "mm", "12.020"],
    ]);
    expect(body.decision_rules).toEqual([expect.stringContaining("Simple acceptance")]);
  });

  it("says of every piece what its own page says, and leaves no characteristic out", async () => {
    const shop = await measuredBatch();

    const { body } = await report(shop.path);

    expect(body.pieces.map(({ piece }: Answer) => piece)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
    for (const piece of body.pieces) {
      const { body: page } = await api.get(`${shop.path}/pieces/${piece.piece}`);
      expect([piece.disposition, piece.on_hold, piece.why]).toEqual([
        page.disposition,
        page.on_hold,
        page.why,
      ]);
      for (const feature of page.features) {
        const told = piece.not_measured.find((one: Answer) =>
          one.characteristics.includes(feature.characteristic),
        );
        const proved = feature.proof === "measured" && feature.readings.length > 0;
        expect(told === undefined, `${piece.piece} ${feature.characteristic}`).toBe(proved);
        if (told) expect([told.proof, told.why]).toEqual([feature.proof, feature.why]);
      }
    }
    const counted = body.outcome.by_disposition.reduce((sum: number, one: Answer) => sum + one.pieces, 0);
    expect(counted).toBe(body.outcome.pieces);
    expect(body.outcome.pieces).toBe(12);
  });

  it("marks the reading that counts where there are several", async () => {
    const shop = await measuredBatch();

    const { body } = await report(shop.path);

    const third = body.pieces[2].results.map((r: Answer) => [r.cut, r.verdict, r.decides]);
    expect(third).toEqual([
      [1, "uncertain", false], // surprising, and not confirmed when it came
      [1, "nonconforming", false],
      [2, "conforming", true],
    ]);
  });

  it("carries offsets, edges, interruptions, holds and decisions, voided ones too, and names who is answerable", async () => {
    const shop = await measuredBatch();
    const [register_id] = [shop.registers.radial];
    const entry = {
      batch_id: shop.batch.batch_id,
      from_piece: 7,
      value: -0.01,
      reason: "worn",
      by: "shift B",
    };
    await create(api, `/v1/registers/${register_id}/entries`, entry);
    await shop.read(8, "12.0450");
    await shop.read(8, "12.0450");
    const decided = await api.post(`${shop.path}/pieces/8/decision`).send({
      decision: "use_as_is",
      authority: "customer, concession C-7",
      nonconformance: "N-3",
      by: "quality",
    });
    expect(decided.status, decided.text).toBe(201);

    const { body } = await report(shop.path);

    const radial = body.registers.find((register: Answer) => register.label === "D7 wear");
    expect(radial.entries).toEqual([
      expect.objectContaining({
        from_piece: 7,
        value: "-0.010",
        change: "-0.010",
        reason: "worn",
        by: "shift B",
      }),
    ]);
    expect(body.holds.map((hold: Answer) => hold.characteristic)).toContain("12");
    expect(body.decisions).toEqual([
      expect.objectContaining({
        from_piece: 8,
        decision: "use_as_is",
        authority: "customer, concession C-7",
        nonconformance: "N-3",
        voided: null,
      }),
    ]);
    expect(body.pieces[7].disposition).toBe("use_as_is");
  });

  it("is refused for a batch that there is not", async () => {
    const { status, body } = await api.get("/v1/batches/999999/report");

    expect(status).toBe(404);
    expect(body.detail).toContain("no batch 999999");
  });

  it("prints in PDF the very numbers that are stored", async () => {
    const shop = await measuredBatch();

    const { pages, text } = await pdfOf(shop.path);

    const { items } = (await api.get(`/v1/readings?batch_id=${shop.batch.batch_id}`)).body;
    expect(items).toHaveLength(8);
    const printed = pages.flat().map((word) => word.replace(/^\[|\]?( [NU])?$/g, ""));
    for (const given of ["12.001", "16.0100", "12.0015", "12.010", "11.998", "12.020"]) {
      expect(printed).toContain(given);
      expect(items.some(({ size }: Answer) => size === Number(given))).toBe(true);
    }
    expect(text).toContain("12.0400 nonconforming"); // the first cut, in the notes
    expect(text).toContain("Simple acceptance");
    expect(pages[0]!.join(" ")).toContain("this report is preliminary");
    expect(text).toContain(`End of the report, ${pages.length} page`);
  });

  it("prints names in any script", async () => {
    const shop = await measuredBatch({ name: "Ступица √ Ω ≤ ⌀" });

    const { text } = await pdfOf(shop.path);

    expect(text).toContain("Ступица √ Ω ≤ ⌀");
  });

  it("is a page without anything of its own to run or to fetch", async () => {
    const shop = await measuredBatch({ name: "<script>alert(1)</script>" });

    const { text, headers } = await report(shop.path, "?format=html");

    expect(headers["content-security-policy"]).toContain("default-src 'none'");
    expect(text).not.toContain("<script");
    expect(text).not.toContain("<b>slot");
    expect(text).toContain("&lt;script&gt;alert(1)&lt;/script&gt;");
    expect(text).not.toMatch(/(src|href)=/);
    for (const given of ["12.001", "12.0015", "16.0100"]) expect(text).toContain(`>${given}</td>`);
  });

  it("is a table in which nothing is a formula and numbers below 0 are numbers", async () => {
    const shop = await measuredBatch();
    const depth = await runningBatch(api, {
      features: [{ kind: "height", nominal: "0", lower_deviation: -0.05, upper_deviation: 0.05, cut_by: [] }],
    });
    await depth.read(1, "-0.0120");

    const { text } = await report(shop.path, "?format=csv");
    const below = await report(`/v1/batches/${depth.batch.batch_id}`, "?format=csv");

    const lines = text
      .replace(/^\uFEFF/, "")
      .trimEnd()
      .split("\r\n");
    expect(lines[0]).toMatch(/^piece,serials,/);
    expect(lines[1]).toContain(`"'=1+1"`);
    expect(text).toContain(`"'-shift"`);
    const told = new Set(lines.slice(1).map((line: string) => line.split(",")[0]));
    expect(told.size).toBe(12);
    expect(below.text).toContain(",-0.0120,mm,-0.050,0.050,conforming,yes,-0.0120,mm,");
  });

  it("leaves what names a thing a text: a spreadsheet would drop zeros and make dates of it", async () => {
    const shop = await runningBatch(api, {
      features: [{ characteristic: "1.10", nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03 }],
    });
    await shop.read(1, "12.0010", { serial: "0042" });

    const { text } = await report(`/v1/batches/${shop.batch.batch_id}`, "?format=csv");

    const [, row] = text.split("\r\n");
    expect(row).toContain(`1,"'0042",,accept,`);
    expect(row).toContain(`,"'1.10",,1,12.0010,mm,11.970,12.030,conforming,yes,12.0010,mm,`);
    expect(row).toMatch(/,"'\d+-1",,$/); // the reading's name
  });

  it("gives names to files that clients of any age can keep", async () => {
    const shop = await measuredBatch();

    const { headers } = await report(shop.path, "?format=csv");

    expect(headers["content-disposition"]).toBe(
      `attachment; filename="report-${shop.batch.name}.csv"; filename*=UTF-8''report%20${shop.batch.name}.csv`,
    );
  });

  it("prints a batch of which nothing was measured", async () => {
    const shop = await runningBatch(api);

    const { body } = await report(`/v1/batches/${shop.batch.batch_id}`);
    const { text } = await pdfOf(`/v1/batches/${shop.batch.batch_id}`);

    expect(body.pieces).toEqual([]);
    expect(text).toContain("End of the report");
  });
});

describe("a gauge in a report", () => {
  it("stands with its calibration, and with a word where that had run out when it was used", async () => {
    const shop = await runningBatch(api);
    const old = await create(
      api,
      "/v1/gauges",
      gaugeBody({ name: "old micrometer", calibration_due: "2020-01-31" }),
    );
    await shop.read(1, "12.001", { gauge_id: old.gauge_id });

    const { text } = await report(`/v1/batches/${shop.batch.batch_id}`, "?format=html");

    expect(text).toContain("2020-01-31: overdue when it was used");
  });
});

describe("a position at maximum material", () => {
  it("stands in the report with its bonus and the limit that it makes [ISO 2692: 0.1 and 0.05 of the bore]", async () => {
    const sizeless = {
      nominal: undefined,
      lower_deviation: undefined,
      upper_deviation: undefined,
      cut_by: [],
    };
    const shop = await runningBatch(api, {
      features: [
        { characteristic: "1", kind: "internal", nominal: "10", lower_deviation: 0, upper_deviation: 0.2 },
        {
          characteristic: "2",
          kind: "position",
          ...sizeless,
          upper_limit: 0.1,
          material_condition: "maximum",
          size_of: { characteristic: "1" },
        },
      ],
    });
    await shop.read(1, "10.05");
    const { value: _, ...position } = shop.reading(1, 0, { feature_id: shop.part.features[1].feature_id });
    await create(api, "/v1/readings", { ...position, dx: 0.06, dy: 0.04 });

    const { body } = await report(`/v1/batches/${shop.batch.batch_id}`);
    const result = body.pieces[0].results.find(({ characteristic }: Answer) => characteristic === "2");

    // 2·√(0.06² + 0.04²) = 0.1442 lies above 0.1, and inside 0.1 + 0.05.
    expect(Number(result.result)).toBeCloseTo(2 * Math.hypot(0.06, 0.04), 6);
    expect([Number(result.upper_limit), Number(result.bonus), result.verdict]).toEqual([
      0.15,
      0.05,
      "conforming",
    ]);
  });
});
