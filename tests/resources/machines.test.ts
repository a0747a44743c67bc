import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { create, machineBody } from "../support/shop.js";

const { api } = await createTestApp();

describe("POST /v1/machines", () => {
  it("keeps a machine, its sizes in its unit", async () => {
    const response = await api
      .post("/v1/machines")
      .send(machineBody({ line_template: "OFFSET {register} ADD {change}" }));

    expect(response.status).toBe(201);
    expect(response.body).toEqual({
      machine_id: expect.stringMatching(/^\d+$/),
      name: "mill-2",
      kind: "mill",
      unit: "mm",
      least_increment: 0.001,
      largest_change: 0.2,
      largest_change_towards_work: 0.1,
      line_template: "OFFSET {register} ADD {change}",
      created_at: expect.stringMatching(/Z$/),
    });
    expect((await api.get(`/v1/machines/${response.body.machine_id}`)).body).toEqual(response.body);
  });

  it("keeps an inch machine exact", async () => {
    const body = machineBody({
      name: "inch",
      unit: "inch",
      least_increment: "0.0001",
      largest_change: 0.01,
      largest_change_towards_work: null,
    });

    expect(await create(api, "/v1/machines", body)).toMatchObject({
      unit: "inch",
      least_increment: 0.0001,
      largest_change: 0.01,
      largest_change_towards_work: null,
      line_template: null,
    });
  });

  it("returns 400 for a missing unit", async () => {
    const response = await api.post("/v1/machines").send(machineBody({ name: "no unit", unit: undefined }));

    expect(response.status).toBe(400);
    expect(response.body.errors).toEqual([
      { pointer: "/unit", detail: 'is missing: send one of "mm", "inch"' },
    ]);
  });

  it("returns 400 for a placeholder that the line cannot fill", async () => {
    const response = await api
      .post("/v1/machines")
      .send(machineBody({ name: "line", line_template: "ADD {amount}" }));

    expect(response.status).toBe(400);
    expect(response.body.detail).toMatch(/\{register\}, \{change\}, \{tool\}, \{value_after\}/);
  });

  it("returns 409 for a name that is taken", async () => {
    await create(api, "/v1/machines", machineBody({ name: "twice" }));

    const response = await api.post("/v1/machines").send(machineBody({ name: "twice" }));

    expect(response.status).toBe(409);
    expect(response.body.errors).toEqual([
      { pointer: "/name", detail: expect.stringMatching(/a machine named "twice" exists/) },
    ]);
  });

  it("returns 422 for steps that contradict each other, and takes equal ones", async () => {
    const steps = (least: number, largest: number, towards: number) =>
      api.post("/v1/machines").send(
        machineBody({
          name: "steps",
          least_increment: least,
          largest_change: largest,
          largest_change_towards_work: towards,
        }),
      );

    const response = await steps(0.3, 0.2, 0.201);

    expect(response.status).toBe(422);
    expect(response.body.errors.map(({ pointer }: { pointer: string }) => pointer)).toEqual([
      "/least_increment",
      "/largest_change_towards_work",
    ]);
    expect((await steps(0.2, 0.2, 0.2)).status).toBe(201);
  });
});

describe("GET /v1/machines", () => {
  it("pages through all of them, oldest first", async () => {
    for (const name of ["p1", "p2", "p3"]) await create(api, "/v1/machines", machineBody({ name }));
    const all = (await api.get("/v1/machines")).body.items;

    const seen: unknown[] = [];
    let cursor: string | null = null;
    do {
      const page: { body: { items: unknown[]; next_cursor: string | null } } = await api
        .get("/v1/machines")
        .query({ limit: 2, ...(cursor && { cursor }) });
      expect(page.body.items.length).toBeLessThanOrEqual(2);
      seen.push(...page.body.items);
      cursor = page.body.next_cursor;
    } while (cursor !== null);

    expect(seen).toEqual(all);
    expect(all.length).toBeGreaterThanOrEqual(3);
  });

  it("has no cursor when the last page is just full", async () => {
    const { items } = (await api.get("/v1/machines")).body;

    expect((await api.get("/v1/machines").query({ limit: items.length })).body.next_cursor).toBeNull();
  });

  it.each([
    "limit=0",
    "limit=501",
    "limit=-1",
    "limit=1.5",
    "limit=",
    "limit=1e2",
    "limit=2&limit=3",
    "cursor=!",
    "cursor=MS4y",
    "page=2",
  ])("returns 400 for ?%s", async (query) => {
    const response = await api.get(`/v1/machines?${query}`);

    expect(response.status).toBe(400);
    expect(response.body.errors[0].pointer).toBe(query.split("=")[0]);
  });

  it("takes a limit of 1 and of 500", async () => {
    expect((await api.get("/v1/machines?limit=1")).body.items).toHaveLength(1);
    expect((await api.get("/v1/machines?limit=500")).status).toBe(200);
  });
});

describe("GET /v1/machines/{machine_id}", () => {
  it("returns 404 for an unknown machine", async () => {
    const response = await api.get("/v1/machines/987654");

    expect(response.status).toBe(404);
    expect(response.body.detail).toBe("There is no machine 987654. GET /v1/machines lists them.");
  });
});
