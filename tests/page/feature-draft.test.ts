import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { create, gaugeBody, machineBody, toolBody } from "../support/shop.js";

// The page is compiled for a browser, and tests are not: what it exports is looked up when they run.
// biome-ignore lint/suspicious/noExplicitAny: see above
const load = async (path: string): Promise<any> =>
  import(new URL(`../../src/page/${path}`, import.meta.url).href);
const { fromKept, likeFeatures, likeNumbers, newFeature, pasteRows, toSent } =
  await load("setup/feature-draft.ts");
const { choicesIn, columnsOf } = await load("import/layout-draft.ts");

describe("copying a part as its next revision", async () => {
  const { api } = await createTestApp();
  const mill = await create(api, "/v1/machines", machineBody());
  const tool = await create(api, "/v1/tools", toolBody(mill.machine_id));
  const gauge = await create(api, "/v1/gauges", gaugeBody());
  const [radial] = tool.registers.map(({ register_id }: { register_id: string }) => register_id);
  const features = [
    {
      characteristic: "1",
      name: "Tongue",
      kind: "external",
      operation: "20",
      nominal: "6.00",
      lower_deviation: -0.05,
      upper_deviation: 0.05,
      target: 6.01,
      importance: "key",
      decision_rule: "guarded_acceptance",
      guard_band_factor: 1,
      cut_by: [{ register_id: radial, walls: 2 }],
      gauge_id: gauge.gauge_id,
      places: ["top", "bottom"],
      drawing_zone: "B4",
      at: { x: 1, y: 2, z: -3 },
      axis: "x",
      depth: 12,
    },
    {
      characteristic: "2",
      kind: "internal",
      nominal: "20",
      fit: "H7",
      cut_by: [{ register_id: radial, effect: -1 }],
    },
    { characteristic: "3", kind: "length", nominal: "80", lower_deviation: -0.3, upper_deviation: 0.1 },
    { characteristic: "4", kind: "length", nominal: "80" },
    { characteristic: "5", kind: "length", nominal: "80", general_tolerance: "f" },
    { characteristic: "6", kind: "depth", nominal: "4", upper_limit: 4.2, target: 4 },
    {
      characteristic: "7",
      kind: "position",
      upper_limit: 0.1,
      material_condition: "maximum",
      size_of: { characteristic: "2" },
    },
    { characteristic: "8", kind: "angle", nominal: "45", general_tolerance: "m", shorter_leg: 25 },
    { characteristic: "9", kind: "roughness", roughness_parameter: "Ra", upper_limit: 0.8 },
    { characteristic: "10", kind: "go_no_go", gauged: "internal_thread", thread_standard: "iso_metric" },
    { characteristic: "11", kind: "form", geometric_characteristic: "flatness", upper_limit: 0.05 },
    { characteristic: "12", kind: "visual" },
    {
      characteristic: "13.1",
      kind: "internal",
      nominal: "8",
      fit: "H7",
      pattern: { name: "holes", order: 1, of: 2 },
    },
    {
      characteristic: "13.2",
      kind: "internal",
      nominal: "8",
      fit: "H7",
      pattern: { name: "holes", order: 2, of: 2 },
    },
    { characteristic: "14", kind: "length", nominal: "0.5", general_tolerance: "m", broken_edge: true },
  ];
  const base = { number: "CP-1", unit: "mm", general_tolerance: "m", name: "Copied" };

  it("loses nothing of any kind of feature", async () => {
    const part = await create(api, "/v1/parts", { ...base, revision: "A", features });
    const copied = part.features.map((feature: object) => toSent(fromKept(feature, part)));
    const next = await create(api, "/v1/parts", { ...base, revision: "B", features: copied });

    const bare = (all: object[]) => all.map((one) => ({ ...one, feature_id: "", part_id: "" }));
    expect(bare(next.features)).toEqual(bare(part.features));
  });
});

describe("pasting rows of a spreadsheet", () => {
  const read = (text: string) =>
    pasteRows(text, undefined)?.map(
      ({ number, name, nominal, way, upper, lower, fit }: Record<string, string>) =>
        [number, name, nominal, way, upper, lower, fit].join("|"),
    );

  it("reads ±, fits, deviations with and without signs, and half a pair as half a pair", () => {
    const rows = [
      ["1\t40,0\t±0,1", "1||40.0|plus_minus|0,1||"],
      ["2\tØ20\tH7", "2||20|fit|||H7"],
      ["3\t80\t+0.1\t-0.2", "3||80|deviations|+0.1|-0.2|"],
      ["4\t80\t0.1\t0.2", "4||80|deviations|0.1|-0.2|"],
      ["5\t25\t+0.035\t+0.022", "5||25|deviations|+0.035|+0.022|"],
      ["6\t9\t+0.1/-0.3", "6||9|deviations|+0.1|-0.3|"],
      ["7\t9", "7||9|general|||"],
      ["8\t9\t+0.1", "8||9|deviations|+0.1||"],
      ["9\t12x\t0.1", "9||12x|plus_minus|0.1||"],
    ];
    expect(read(rows.map(([row]) => row).join("\r\n"))).toEqual(rows.map(([, becomes]) => becomes));
  });

  it("leaves titles out, keeps names, and is no table without a tab", () => {
    expect(read("No\tName\tSize\t+/-\n1\tBore\t8\t0.1\n2\tSlot 2\t9\t0.1\n")).toEqual([
      "1|Bore|8|plus_minus|0.1||",
      "2|Slot 2|9|plus_minus|0.1||",
    ]);
    expect(read("12.5")).toBeUndefined();
  });
});

describe("like features", () => {
  it("are numbered below their own number or from it on", () => {
    expect(likeNumbers("12", 10, "dotted").at(-1)).toBe("12.10");
    expect(likeNumbers("12", 10, "running").at(-1)).toBe("21");
    expect(likeNumbers("A", 3, "running")).toBeUndefined();
  });

  it("have their place in the pattern and keys of their own", () => {
    const made = likeFeatures(newFeature(), "holes", ["1.1", "1.2"]);
    expect(made.map(({ pattern }: { pattern: object }) => pattern)).toEqual([
      { name: "holes", order: 1, of: 2 },
      { name: "holes", order: 2, of: 2 },
    ]);
    expect(made[0].key).not.toBe(made[1].key);
  });
});

describe("a layout in the form", () => {
  it("offers both meanings of a number and both units, by the service's own words", async () => {
    const { api } = await createTestApp();
    const ask = async (layout: object) => {
      const { body } = await api.post("/v1/log-layouts/trials").send({
        layout: { name: "x", format: "table", table: { separator: ";", columns: { value: "V" } }, ...layout },
        sample: "V\n1,234\n",
      });
      return choicesIn(body.lines.at(-1).why ?? "").map(({ change }: { change: object }) => change);
    };

    expect(await ask({})).toEqual([
      { decimal_sign: ",", grouping_sign: null },
      { decimal_sign: ".", grouping_sign: "," },
    ]);
    expect(await ask({ decimal_sign: "," })).toEqual([{ unit: "mm" }, { unit: "inch" }]);
    expect(await ask({ decimal_sign: ",", unit: "mm" })).toEqual([]);
  });

  it("names the columns of a table, quoted cells and lines before its header left off", () => {
    const table = { separator: ",", columns: {} };
    const layout = { name: "x", format: "table", table };
    expect(columnsOf('made by\n"SIZE, A",P\n"1,5",2\n', layout)).toEqual([
      { name: "SIZE, A", title: "SIZE, A", example: "1,5" },
      { name: "P", title: "P", example: "2" },
    ]);
    expect(columnsOf("1,2\n", { ...layout, table: { ...table, header: false } })[1]).toEqual({
      name: 2,
      title: "column 2",
      example: "2",
    });
  });
});
