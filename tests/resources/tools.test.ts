import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { create, machineBody, toolBody } from "../support/shop.js";

const { api, db } = await createTestApp();
const mill = await create(api, "/v1/machines", machineBody());
const inchLathe = await create(
  api,
  "/v1/machines",
  machineBody({
    name: "lathe-1",
    kind: "lathe",
    unit: "inch",
    least_increment: 0.0001,
    largest_change: 0.01,
    largest_change_towards_work: null,
  }),
);

const register = (change: object = {}) => ({
  number: 900,
  label: "D900",
  controls: "radial",
  holds: "radius",
  value: 0,
  ...change,
});

describe("POST /v1/tools", () => {
  it("keeps a tool with its registers and begins its first edge", async () => {
    const response = await api.post("/v1/tools").send(toolBody(mill.machine_id));

    expect(response.status).toBe(201);
    expect(response.body).toMatchObject({
      tool_id: expect.stringMatching(/^\d+$/),
      machine_id: mill.machine_id,
      number: 7,
      unit: "mm",
      nominal_diameter: 10,
      life_pieces: 400,
      registers: [
        {
          number: 7,
          label: "D7 wear",
          controls: "radial",
          holds: "radius",
          sign: "normal",
          start_value: 0,
          largest_total: 0.15,
        },
        {
          number: 57,
          label: "H57 wear",
          controls: "axial",
          holds: null,
          sign: "normal",
          start_value: 0,
          largest_total: null,
        },
      ],
    });
    expect((await api.get(`/v1/tools/${response.body.tool_id}`)).body).toEqual(response.body);
    const edges = await db
      .selectFrom("edge")
      .select(["number", "reason"])
      .where("tool_id", "=", response.body.tool_id)
      .execute();
    expect(edges).toEqual([{ number: 1, reason: "start" }]);
  });

  it("reads sizes in the machine's unit, exactly", async () => {
    const tool = await create(
      api,
      "/v1/tools",
      toolBody(inchLathe.machine_id, {
        nominal_diameter: null,
        registers: [
          register({
            number: 1,
            label: "X1",
            controls: "x",
            holds: "diameter",
            value: "-0.0012",
            largest_total: 0.02,
          }),
          register({ number: 1, label: "Z1", controls: "z", holds: undefined, value: 12.3456789 }),
        ],
      }),
    );

    expect(tool.unit).toBe("inch");
    expect(tool.registers.map((r: { start_value: number }) => r.start_value)).toEqual([-0.0012, 12.3456789]);
    const stored = await db
      .selectFrom("register")
      .select("start_value_mm")
      .where("label", "=", "X1")
      .execute();
    expect(stored).toEqual([{ start_value_mm: "-0.030480000" }]);
  });

  it("takes a sized tool without registers", async () => {
    const tool = await create(
      api,
      "/v1/tools",
      toolBody(mill.machine_id, { number: 20, kind: "reamer", registers: undefined }),
    );

    expect(tool.registers).toEqual([]);
  });

  it.each([
    [{ controls: "radial", holds: undefined }, "/registers/0/holds", /send "radius" or "diameter"/],
    [{ controls: "x", holds: null }, "/registers/0/holds", /send "radius" or "diameter"/],
    [{ controls: "axial" }, "/registers/0/holds", /leave it out/],
    [{ controls: "z" }, "/registers/0/holds", /leave it out/],
    [{ value: undefined }, "/registers/0/value", /is missing/],
    [{ largest_total: 0 }, "/registers/0/largest_total", /above 0/],
    [{ sign: "minus" }, "/registers/0/sign", /"normal", "reversed"/],
    [{ number: 1.5 }, "/registers/0/number", /whole number/],
    [{ number: -1 }, "/registers/0/number", /at least 0/],
    [{ Label: "D7" }, "/registers/0/Label", /near: "label"/],
  ])("returns 400 for a register with %j", async (change, pointer, detail) => {
    const response = await api
      .post("/v1/tools")
      .send(toolBody(mill.machine_id, { number: 30, registers: [register(change)] }));

    expect(response.status).toBe(400);
    expect(response.body.errors).toContainEqual({ pointer, detail: expect.stringMatching(detail) });
  });

  it("returns 422 for a machine that there is not, 400 for what is no id", async () => {
    const unknown = await api.post("/v1/tools").send(toolBody("987654"));
    const noId = await api.post("/v1/tools").send(toolBody("mill-2"));

    expect(unknown.status).toBe(422);
    expect(unknown.body.errors[0]).toEqual({
      pointer: "/machine_id",
      detail: expect.stringMatching(/no machine 987654/),
    });
    expect(noId.status).toBe(400);
  });

  it("returns 409 for a tool number that the machine has", async () => {
    await create(api, "/v1/tools", toolBody(mill.machine_id, { number: 40, registers: [] }));

    const response = await api
      .post("/v1/tools")
      .send(toolBody(mill.machine_id, { number: 40, registers: [] }));

    expect(response.status).toBe(409);
    expect(response.body.errors).toEqual([
      { pointer: "/number", detail: expect.stringMatching(/"mill-2" has a tool 40/) },
    ]);
  });

  it("returns 409 for a register number or label that the machine has, and keeps nothing", async () => {
    await create(
      api,
      "/v1/tools",
      toolBody(mill.machine_id, { number: 50, registers: [register({ number: 50, label: "D50" })] }),
    );

    const response = await api.post("/v1/tools").send(
      toolBody(mill.machine_id, {
        number: 51,
        registers: [
          register({ number: 50, label: "new" }),
          register({ number: 51, label: "D50" }),
          register({ number: 52, label: "D52" }),
          register({ number: 52, label: "D52" }),
        ],
      }),
    );

    expect(response.status).toBe(409);
    expect(response.body.errors.map(({ pointer }: { pointer: string }) => pointer)).toEqual([
      "/registers/0",
      "/registers/1",
      "/registers/3",
    ]);
    expect(response.body.errors[0].detail).toMatch(/radial register 50 or one labelled "new"/);
    const tools = await api.get("/v1/tools").query({ machine_id: mill.machine_id });
    expect(tools.body.items.filter(({ number }: { number: number }) => number === 51)).toEqual([]);
  });

  it("takes the same numbers again on another machine, and one number for two kinds of register", async () => {
    const other = await create(api, "/v1/machines", machineBody({ name: "mill-3" }));
    const registers = [
      register({ number: 50, label: "D50" }),
      register({ number: 50, label: "H50", controls: "axial", holds: null }),
    ];

    const tool = await create(api, "/v1/tools", toolBody(other.machine_id, { number: 50, registers }));

    expect(tool.registers).toHaveLength(2);
  });
});

describe("GET /v1/tools", () => {
  it("lists those of one machine, each with its registers", async () => {
    const other = await create(api, "/v1/machines", machineBody({ name: "mill-4" }));
    const first = await create(api, "/v1/tools", toolBody(other.machine_id));
    const second = await create(
      api,
      "/v1/tools",
      toolBody(other.machine_id, { number: 8, registers: [register()] }),
    );

    const page = await api.get("/v1/tools").query({ machine_id: other.machine_id, limit: 1 });
    const rest = await api
      .get("/v1/tools")
      .query({ machine_id: other.machine_id, limit: 1, cursor: page.body.next_cursor });

    expect(page.body.items).toEqual([first]);
    expect(rest.body).toEqual({ items: [second], next_cursor: null });
  });

  it("lists nothing for a machine that there is not", async () => {
    expect((await api.get("/v1/tools?machine_id=987654")).body).toEqual({ items: [], next_cursor: null });
  });
});
