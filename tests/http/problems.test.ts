import { connect } from "node:net";
import { sql } from "kysely";
import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { create, gaugeBody, machineBody, partBody } from "../support/shop.js";

const { api, app, db } = await createTestApp();

function expectProblem(
  response: { status: number; type: string; body: { status: number; type: string } },
  status: number,
  type: string,
) {
  expect(response.body).toMatchObject({ status, type: `urn:onsize:problem:${type}` });
  expect(response.status).toBe(status);
  expect(response.type).toBe("application/problem+json");
}

describe("a request that cannot be read", () => {
  it("is a 400 for an empty body", async () => {
    const response = await api.post("/v1/machines").set("content-type", "application/json").send("");

    expectProblem(response, 400, "validation");
    expect(response.body.detail).toMatch(/body is empty.*Send JSON/);
  });

  it("is a 400 without a body and content type", async () => {
    const response = await api.post("/v1/machines");

    expectProblem(response, 400, "validation");
    expect(response.body.detail).toBe("The body is missing: send an object.");
  });

  it.each(['{"name": "mill-2"', "{'name': 1}", '{"a":1,}', "NaN", '{"least_increment": NaN}'])(
    "is a 400 for %s",
    async (text) => {
      const response = await api.post("/v1/machines").set("content-type", "application/json").send(text);

      expectProblem(response, 400, "validation");
      expect(response.body.detail).toMatch(/no JSON\. Check quotes/);
    },
  );

  it("is a 400 for a body that would poison a prototype", async () => {
    const response = await api
      .post("/v1/machines")
      .set("content-type", "application/json")
      .send('{"__proto__": {"a": 1}}');

    expectProblem(response, 400, "validation");
  });

  it.each(["[]", '"text"', "3", "null"])("is a 400 for the JSON %s, which is no object", async (text) => {
    const response = await api.post("/v1/machines").set("content-type", "application/json").send(text);

    expectProblem(response, 400, "validation");
    expect(response.body.detail).toMatch(/must be an object/);
  });

  it.each(["text/plain", "application/xml", "application/x-www-form-urlencoded", "nonsense"])(
    "is a 415 for %s",
    async (type) => {
      const response = await api.post("/v1/machines").set("content-type", type).send("a=1");

      expectProblem(response, 415, "unsupported-media-type");
      expect(response.body.detail).toMatch(/application\/json/);
    },
  );

  it("is a 413 for a body of 10 MB", async () => {
    const response = await fetch(`${address()}/v1/machines`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(machineBody({ name: "x".repeat(10 * 1024 * 1024) })),
    });

    expect(response.status).toBe(413);
    expect(response.headers.get("content-type")).toMatch("application/problem+json");
    expect(await response.json()).toMatchObject({ status: 413, detail: expect.stringMatching(/5 MB/) });
  });

  it("is a 404 for an unknown path", async () => {
    expectProblem(await api.get("/v1/millls"), 404, "not-found");
    expectProblem(await api.get("/nothing-here"), 404, "not-found");
    expectProblem(await api.post("/v1/machines/1/2/3").send({}), 404, "not-found");
  });

  it("is a 4xx problem for an address that is far too long", async () => {
    const response = await api.get(`/v1/machines/${"9".repeat(300)}`);

    expect(response.type).toBe("application/problem+json");
    expect([404, 414]).toContain(response.status);
  });

  it("is a problem for headers that are far too long, and for what is no HTTP", async () => {
    const header = `x: ${"y".repeat(40_000)}`;

    expect(await sendRaw(`GET /healthz HTTP/1.1\r\nhost: a\r\n${header}\r\n\r\n`)).toMatch(
      /^HTTP\/1\.1 431 .*problem\+json.*headers-too-large/s,
    );
    expect(await sendRaw("hello\r\n\r\n")).toMatch(/^HTTP\/1\.1 400 .*problem\+json.*no HTTP request/s);
  });

  it("is a 400 for an address with a broken escape", async () => {
    expectProblem(await api.get("/v1/machines/%zz"), 400, "validation");
  });

  it.each(["999999", "abc", "-1", "1.5", "99999999999999999999999999", "1%00", "0x1", "%20"])(
    "is a 404 for the id %s, which nothing has",
    async (id) => {
      for (const kind of ["machines", "tools", "gauges", "parts", "features"]) {
        expectProblem(await api.get(`/v1/${kind}/${id}`), 404, "not-found");
      }
    },
  );
});

describe("a method that a path does not take", () => {
  it.each(["/v1/machines", "/v1/machines/1", "/v1/tools/1", "/v1/gauges/1", "/v1/parts/1", "/v1/features/1"])(
    "DELETE %s is a 405: nothing is deleted, things are voided",
    async (path) => {
      const response = await api.delete(path);

      expectProblem(response, 405, "not-allowed");
      expect(response.body.detail).toMatch(/Nothing is deleted here.*voided with a reason/);
    },
  );

  it("is a 405 with the methods that it does take", async () => {
    const response = await api.put("/v1/gauges/1").send({});

    expectProblem(response, 405, "not-allowed");
    expect(response.headers.allow).toBe("GET, HEAD, PATCH");
    expect(response.body.detail).toBe("PUT is not taken at /v1/gauges/1. Send GET, HEAD, PATCH.");
  });
});

describe("what is wrong in a body", () => {
  it("is listed with a pointer for each fault", async () => {
    const response = await api
      .post("/v1/machines")
      .send({ kind: "mil", least_increment: true, largest_change: "0,2", colour: "green" });

    expectProblem(response, 400, "validation");
    expect(
      Object.fromEntries(
        response.body.errors.map((e: { pointer: string; detail: string }) => [e.pointer, e.detail]),
      ),
    ).toEqual({
      "/name": "is missing: send a text",
      "/kind": 'must be one of "mill", "lathe", not "mil"; did you mean "mill"?',
      "/unit": 'is missing: send one of "mm", "inch"',
      "/least_increment": 'is no size: send a decimal such as 12.005 or "12.005"',
      "/largest_change": '"0,2" is no decimal: write a decimal point and no thousands separator',
      "/colour": '"colour" is not known here; leave it out',
    });
  });

  it("names the members near an unknown one", async () => {
    const response = await api.post("/v1/machines").send(machineBody({ largest_chnage: 1 }));

    expect(response.body.errors).toContainEqual({
      pointer: "/largest_chnage",
      detail: '"largest_chnage" is not known here; near: "largest_change", "largest_change_towards_work"',
    });
  });

  it.each([
    "a\u0000b",
    "a\nb",
    "tab\t",
    "\u007f",
    "\u0085",
    "half \ud800",
    "",
    " ",
    " mill",
    "mill ",
    "x".repeat(101),
  ])("refuses the name %j", async (name) => {
    const response = await api.post("/v1/machines").send(machineBody({ name }));

    expectProblem(response, 400, "validation");
    expect(response.body.errors[0].pointer).toBe("/name");
  });

  it("takes letters of every script, composed", async () => {
    const { name } = await create(api, "/v1/machines", machineBody({ name: "Fra\u0308se 3 · 铣床 😀" }));

    expect(name).toBe("Fr\u00e4se 3 · 铣床 😀");
  });

  it.each([
    ["1e400", /beyond every size/],
    ["-1e400", /beyond every size/],
    ["1e300", /beyond 100000/],
    ["100000.001", /beyond 100000/],
    ['"100000.001"', /beyond 100000/],
    ["0", /above 0/],
    ["-1", /above 0/],
    ["1e-12", /above 0/],
    ['""', /is empty/],
    ['"NaN"', /no decimal/],
    ['"Infinity"', /no decimal/],
    ['"0x10"', /no decimal/],
    ['"1e3"', /no decimal/],
    ['"1,000"', /decimal point and no thousands separator/],
    ['"0.001 mm"', /no decimal/],
    [`"${"9".repeat(70)}"`, /beyond 100000/],
    ["true", /is no size/],
    ["null", /is no size/],
    ["[1]", /is no size/],
    ["{}", /is no size/],
  ])("refuses the length %s", async (text, detail) => {
    const body = JSON.stringify(
      machineBody({ largest_change: 0, largest_change_towards_work: undefined }),
    ).replace('"largest_change":0', `"largest_change":${text}`);
    const response = await api.post("/v1/machines").set("content-type", "application/json").send(body);

    expectProblem(response, 400, "validation");
    expect(response.body.errors).toEqual([
      { pointer: "/largest_change", detail: expect.stringMatching(detail) },
    ]);
  });
});

describe("what only the database can see", () => {
  it("is a problem in words when a rule of its own is broken", async () => {
    await create(api, "/v1/gauges", gaugeBody());
    await db.schema
      .alterTable("gauge")
      .addCheckConstraint("gauge_calibrated_this_century", sql`calibration_due < '2100-01-01'`)
      .execute();

    const response = await api.patch("/v1/gauges/1").send({ calibration_due: "2199-01-01" });

    expectProblem(response, 422, "unprocessable");
    expect(response.body.detail).toBe('This breaks the rule "gauge calibrated this century".');
  });

  it("is a 409 when two want the same name at once", async () => {
    const responses = await Promise.all(
      Array.from({ length: 8 }, () => api.post("/v1/parts").send(partBody(undefined, { number: "RACE-1" }))),
    );

    expect(responses.map(({ status }) => status).sort()).toEqual([201, 409, 409, 409, 409, 409, 409, 409]);
  });
});

describe("a failure of the service", () => {
  it("is a 500 that tells nothing but the request id", async () => {
    await db.schema.alterTable("machine").renameTo("machine_elsewhere").execute();
    const response = await api.get("/v1/machines");
    await db.schema.alterTable("machine_elsewhere").renameTo("machine").execute();

    expectProblem(response, 500, "internal");
    expect(response.text).not.toMatch(/machine_elsewhere|relation|select/);
    expect(response.body.detail).toContain(response.headers["request-id"]);
  });
});

function sendRaw(text: string): Promise<string> {
  return new Promise((resolve, reject) => {
    const socket = connect(Number(new URL(address()).port), "127.0.0.1", () => socket.write(text));
    let answer = "";
    socket.on("data", (part) => {
      answer += part;
    });
    socket.on("close", () => resolve(answer));
    socket.on("error", reject);
  });
}

function address(): string {
  const at = app.server.address();
  return typeof at === "object" && at ? `http://127.0.0.1:${at.port}` : "";
}
