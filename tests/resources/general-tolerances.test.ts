import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { partBody } from "../support/shop.js";

const { api } = await createTestApp();

let parts = 0;
const post = (features: object[], change: object = {}) =>
  api.post("/v1/parts").send(
    partBody(
      features.map((feature, i) => ({ characteristic: String(i + 1), ...feature })),
      { number: `general-${++parts}`, ...change },
    ),
  );
const form = (geometric_characteristic: string, change: object = {}) => ({
  kind: "form",
  geometric_characteristic,
  ...change,
});

describe("POST /v1/parts with general tolerances for form and place", () => {
  it("takes both classes from the part's mark, as on a drawing: ISO 2768-mK", async () => {
    const { status, body } = await post(
      [
        { kind: "length", nominal: "25" },
        form("flatness", { toleranced_length: 80 }),
        form("circular_run_out"),
        form("flatness", { upper_limit: 0.02 }),
        { kind: "angle", nominal: "45", shorter_leg: 30 },
      ],
      { general_tolerance: "mK" },
    );

    expect(status).toBe(201);
    expect(body.general_tolerance).toBe("mK");
    // ISO 2768-1, tables 1 and 3: m at 25 mm ±0.2, at a leg of 30 mm ±30'; ISO 2768-2, tables 1 and 4: K over 30 to 100 mm 0.2, run-out 0.2.
    expect(body.features).toMatchObject([
      { limits_from: "general_tolerance", general_tolerance: "m", lower_limit: 24.8, upper_limit: 25.2 },
      {
        limits_from: "general_tolerance",
        general_tolerance: "K",
        lower_limit: null,
        upper_limit: 0.2,
        toleranced_length: 80,
      },
      { limits_from: "general_tolerance", general_tolerance: "K", upper_limit: 0.2, toleranced_length: null },
      { limits_from: "limits", general_tolerance: null, upper_limit: 0.02 },
      { limits_from: "general_tolerance", general_tolerance: "m", lower_limit: 44.5, upper_limit: 45.5 },
    ]);
    expect((await api.get(`/v1/parts/${body.part_id}`)).body).toEqual(body);
  });

  it("takes the one for its kind from a feature's own mark", async () => {
    const { body } = await post([
      { kind: "length", nominal: "25", general_tolerance: "fH" },
      form("perpendicularity", { toleranced_length: "100", general_tolerance: "fH" }),
      form("symmetry", { toleranced_length: "100.1", general_tolerance: "L" }),
    ]);

    // ISO 2768-2, table 2: H up to 100 mm 0.2; table 3: L over 100 to 300 mm 1.
    expect(body.features).toMatchObject([
      { general_tolerance: "f", upper_limit: 25.1 },
      { general_tolerance: "H", upper_limit: 0.2 },
      { general_tolerance: "L", upper_limit: 1 },
    ]);
  });

  it("goes by millimetres for a part in inches", async () => {
    const { body } = await post([form("straightness", { toleranced_length: 4, general_tolerance: "H" })], {
      unit: "inch",
    });

    // 101.6 mm lies over 100 to 300 mm: 0.2 mm.
    expect(body.features[0].upper_limit).toBeCloseTo(0.2 / 25.4, 9);
  });

  it.each([
    [
      form("flatness"),
      { general_tolerance: "mK" },
      "toleranced_length",
      /is missing: the general tolerance "K" depends on it/,
    ],
    [
      form("flatness", { toleranced_length: 3001 }),
      { general_tolerance: "K" },
      "upper_limit",
      /ends at 3000 mm.*Send upper_limit/,
    ],
    [
      form("roundness"),
      { general_tolerance: "mK" },
      "upper_limit",
      /takes roundness from the tolerance of the diameter/,
    ],
    [
      form("surface_profile", { general_tolerance: "K" }),
      {},
      "general_tolerance",
      /gives none for the profile of a surface/,
    ],
    [
      form("flatness", { general_tolerance: "m", toleranced_length: 10 }),
      {},
      "general_tolerance",
      /takes H, K or L of ISO 2768-2/,
    ],
    [
      { kind: "length", nominal: "25", general_tolerance: "K" },
      {},
      "general_tolerance",
      /takes f, m, c or v of ISO 2768-1/,
    ],
    [
      form("flatness", { toleranced_length: 10 }),
      { general_tolerance: "m" },
      "upper_limit",
      /class H, K or L of ISO 2768-2/,
    ],
    [form("flatness", { toleranced_length: 10 }), {}, "upper_limit", /class H, K or L of ISO 2768-2/],
    [{ kind: "length", nominal: "25" }, { general_tolerance: "K" }, "lower_deviation", /is missing/],
    [form("flatness", { upper_limit: 0.1, general_tolerance: "K" }), {}, "general_tolerance", /second way/],
    [
      { kind: "length", nominal: "25", general_tolerance: "m", toleranced_length: 3 },
      {},
      "toleranced_length",
      /is no form/,
    ],
    [form("flatness", { toleranced_length: 0, general_tolerance: "K" }), {}, "toleranced_length", /above 0/],
    [form("flatness", { general_tolerance: "KK" }), {}, "general_tolerance", /./],
  ])("refuses %j of %j at %s", async (feature, part, field, detail) => {
    const { status, body } = await post([feature], part);

    expect([400, 422]).toContain(status);
    expect(body.errors).toEqual([{ pointer: `/features/0/${field}`, detail: expect.stringMatching(detail) }]);
  });

  it("refuses a mark that there is none of", async () => {
    const { status, body } = await post([{ kind: "length", nominal: "25" }], { general_tolerance: "Km" });

    expect(status).toBe(400);
    expect(body.errors[0].pointer).toBe("/general_tolerance");
  });
});
