import { sql } from "kysely";
import { describe, expect, it } from "vitest";
import { roleFor } from "../../src/http/roles.js";
import { runKeyCommand } from "../../src/resources/keys/command.js";
import { createTestApp } from "../support/app.js";

const adminKey = "the-first-key-of-a-shop";
const { api, app, db } = await createTestApp({ adminKey });
const open = await createTestApp();

const bearer = (key: string) => ({ Authorization: `Bearer ${key}` });
const machine = (name: string) => ({
  name,
  kind: "mill",
  unit: "mm",
  least_increment: 0.001,
  largest_change: 0.2,
});

async function makeKey(name: string, role: string) {
  const response = await api.post("/v1/keys").set(bearer(adminKey)).send({ name, role });
  expect(response.status).toBe(201);
  return response.body as { key: string; key_id: string };
}

describe("roles", () => {
  const routes = Object.entries(app.swagger().paths ?? {}).flatMap(([path, methods]) =>
    Object.entries(methods as Record<string, { operationId: string }>).map(
      ([method, { operationId }]): [string, string, string] => [method, path, operationId],
    ),
  );

  it("are declared for every operation of the contract, and for nothing else", () => {
    expect(Object.keys(roleFor).sort()).toEqual(routes.map(([, , id]) => id).sort());
  });

  it("let nobody through without a key where a role is declared, and refuse whoever has less", async () => {
    const { key } = await makeKey("measuring arm", "uploader");
    for (const [method, path, id] of routes) {
      const role = roleFor[id as keyof typeof roleFor];
      if (role === "anybody") continue;
      const url = path.replaceAll(/\{\w+\}/g, "1");
      const send = (headers: Record<string, string>) =>
        app.inject({ method: method.toUpperCase() as "GET", url, headers });

      expect([id, (await send({})).statusCode]).toEqual([id, 401]);
      if (role === "uploader") continue;
      const refused = await send(bearer(key) as Record<string, string>);
      expect([id, refused.statusCode]).toEqual([id, 403]);
      expect(refused.json().detail).toContain(
        `"measuring arm" is one of the role uploader; this needs ${role}`,
      );
    }
  });

  it("let an engineer set up a machine, and an operator only look", async () => {
    const engineer = await makeKey("engineer", "engineer");
    const operator = await makeKey("operator", "operator");

    expect((await api.post("/v1/machines").set(bearer(operator.key)).send(machine("m-1"))).status).toBe(403);
    expect((await api.post("/v1/machines").set(bearer(engineer.key)).send(machine("m-1"))).status).toBe(201);
    expect((await api.get("/v1/machines").set(bearer(operator.key))).body.items).toHaveLength(1);
    expect((await api.get("/v1/keys").set(bearer(engineer.key))).status).toBe(403);
    expect((await api.get("/v1/audit").set(bearer(operator.key))).status).toBe(403);
  });
});

describe("POST /v1/keys", () => {
  it("shows the key once and keeps nothing that it could be read from", async () => {
    const { key } = await makeKey("shown once", "operator");
    const secret = key.split("_")[2]!;
    const rows = await db.selectFrom("access_key").selectAll().execute();
    const listed = await api.get("/v1/keys").set(bearer(adminKey));
    const audit = await db.selectFrom("audit").selectAll().execute();

    expect(key).toMatch(/^onsize_[0-9a-f]{10}_[\w-]{43}$/);
    expect(JSON.stringify([rows, listed.body, audit])).not.toContain(secret);
    expect(rows.every(({ secret_hash }) => secret_hash.length === 32)).toBe(true);
  });

  it("makes one key for a request sent twice, and doesn't show it again", async () => {
    const send = () =>
      api
        .post("/v1/keys")
        .set({ ...bearer(adminKey), "Idempotency-Key": "make-it-once" })
        .send({ name: "sent twice", role: "operator" });
    const first = await send();
    const second = await send();

    expect(first.body.key).toMatch(/^onsize_/);
    expect(second.body).toEqual({ ...first.body, key: null });
  });

  it("returns 409 for a name that was ever taken", async () => {
    const { key_id } = await makeKey("taken", "operator");
    await api.post(`/v1/keys/${key_id}/revoke`).set(bearer(adminKey));
    const response = await api.post("/v1/keys").set(bearer(adminKey)).send({ name: "taken", role: "admin" });

    expect(response.status).toBe(409);
    expect(response.body.errors[0].pointer).toBe("/name");
  });

  it("notes when a key was last used", async () => {
    const { key, key_id } = await makeKey("used", "operator");
    await api.get("/v1/machines").set(bearer(key));

    await expect
      .poll(async () => {
        const { body } = await api.get("/v1/keys").set(bearer(adminKey));
        return body.items.find((item: { key_id: string }) => item.key_id === key_id).last_used_at;
      })
      .not.toBeNull();
  });
});

describe("POST /v1/keys/{key_id}/revoke", () => {
  it("takes a key out of use at once, and what it was is kept", async () => {
    const { key, key_id } = await makeKey("to be revoked", "operator");
    expect((await api.get("/v1/machines").set(bearer(key))).status).toBe(200);

    const revoked = await api.post(`/v1/keys/${key_id}/revoke`).set(bearer(adminKey));

    expect(revoked.body).toMatchObject({ revoked_by: "ONSIZE_ADMIN_KEY" });
    expect((await api.get("/v1/machines").set(bearer(key))).status).toBe(401);
    const again = await api.post(`/v1/keys/${key_id}/revoke`).set(bearer(adminKey));
    expect(again.body.revoked_at).toBe(revoked.body.revoked_at);
  });

  it("returns 404 for a key that there is not", async () => {
    expect((await api.post("/v1/keys/987654/revoke").set(bearer(adminKey))).status).toBe(404);
  });
});

describe("GET /v1/audit", () => {
  it("says who did what to which record with which key", async () => {
    const { key } = await makeKey("setter", "engineer");
    const made = await api.post("/v1/machines").set(bearer(key)).send(machine("m-audit"));
    const { machine_id } = made.body;

    const byEntity = await api.get(`/v1/audit?entity=machine_id:${machine_id}`).set(bearer(key));

    expect(byEntity.body.items).toHaveLength(1);
    expect(byEntity.body.items[0]).toMatchObject({
      key: "setter",
      operation: "createMachine",
      entities: { machine_id },
      request: { name: "m-audit" },
      request_id: made.headers["request-id"],
    });
    const byKey = await api.get("/v1/audit?key=setter&limit=1").set(bearer(key));
    expect(byKey.body.items).toEqual(byEntity.body.items);
    expect((await api.get("/v1/audit?from=2999-01-01T00:00:00Z").set(bearer(key))).body.items).toEqual([]);
    expect((await api.get("/v1/audit?to=2000-01-01T00:00:00Z").set(bearer(key))).body.items).toEqual([]);
    expect((await api.get("/v1/audit?operation=updatePart").set(bearer(key))).body.items).toEqual([]);
  });

  it("holds no row for what was refused, and one for what was sent twice", async () => {
    const count = async () =>
      Number((await db.selectFrom("audit").select(db.fn.countAll().as("n")).executeTakeFirst())?.n);
    const before = await count();
    const send = () =>
      api
        .post("/v1/machines")
        .set({ ...bearer(adminKey), "Idempotency-Key": "machine-once" })
        .send(machine("m-once"));
    expect((await send()).status).toBe(201);
    expect((await send()).status).toBe(201);
    expect((await api.post("/v1/machines").set(bearer(adminKey)).send(machine("m-once"))).status).toBe(409);

    expect(await count()).toBe(before + 1);
  });

  it("is paged to its end, newest first", async () => {
    const ids: number[] = [];
    let cursor = "";
    do {
      const { body } = await api.get(`/v1/audit?limit=3${cursor}`).set(bearer(adminKey));
      ids.push(...body.items.map((item: { audit_id: string }) => Number(item.audit_id)));
      cursor = body.next_cursor === null ? "" : `&cursor=${body.next_cursor}`;
    } while (cursor !== "");

    expect(ids.length).toBeGreaterThan(6);
    expect(ids).toEqual([...new Set(ids)].sort((a, b) => b - a));
  });

  it.each(["update audit set by_name = 'nobody'", "delete from audit", "truncate audit"])(
    "refuses in the database: %s",
    async (statement) => {
      await expect(sql.raw(statement).execute(db)).rejects.toThrow(/audit is only ever added to/);
    },
  );
});

describe("/v1/session", () => {
  const ours = { "Sec-Fetch-Site": "same-origin" };

  it("keeps the key in a cookie that no script reads and no other site sends", async () => {
    const { key } = await makeKey("page", "engineer");
    const signedIn = await api.post("/v1/session").set(ours).send({ key });
    const cookie = signedIn.headers["set-cookie"]![0]!;

    expect(signedIn.body).toEqual({ needs_key: true, name: "page", role: "engineer" });
    expect(cookie).toMatch(/; Path=\/v1; HttpOnly; SameSite=Strict; Max-Age=\d+$/);
    const sent = cookie.split(";")[0]!;
    expect((await api.get("/v1/machines").set("Cookie", sent)).status).toBe(200);
    expect((await api.get("/v1/session").set("Cookie", sent)).body.name).toBe("page");
    const post = (headers: Record<string, string>, name: string) =>
      api
        .post("/v1/machines")
        .set({ ...headers, Cookie: sent })
        .send(machine(name));
    expect((await post(ours, "by-page")).status).toBe(201);
    expect((await post({ "Sec-Fetch-Site": "cross-site" }, "m-x")).status).toBe(403);
    expect((await post({ "Sec-Fetch-Site": "same-site" }, "m-x")).status).toBe(403);
    expect((await post({ Origin: "https://elsewhere.example" }, "m-x")).status).toBe(403);
    expect((await post({ Origin: "null" }, "m-x")).status).toBe(403);
    expect((await post({}, "m-x")).status).toBe(403);
    const out = await api.delete("/v1/session").set({ ...ours, Cookie: sent });
    expect(out.headers["set-cookie"]![0]).toMatch(/^onsize_key=; .*Max-Age=0$/);
  });

  it("is for https alone where the browser came by https", async () => {
    const { key } = await makeKey("page by https", "operator");
    const response = await api
      .post("/v1/session")
      .set({ ...ours, "X-Forwarded-Proto": "https" })
      .send({ key });

    expect(response.headers["set-cookie"]![0]).toMatch(/; Secure$/);
  });

  it("returns 401 for a key that nobody has", async () => {
    const response = await api.post("/v1/session").set(ours).send({ key: "wrong" });

    expect(response.status).toBe(401);
    expect(response.headers["set-cookie"]).toBeUndefined();
  });
});

describe("without a key", () => {
  it("everything is open until one is made; then every replica asks for it, even when all are revoked", async () => {
    expect((await open.api.get("/v1/session")).body).toEqual({ needs_key: false, name: null, role: null });
    expect((await open.api.post("/v1/machines").send(machine("m-1"))).status).toBe(201);
    expect(
      (await open.api.post("/v1/machines").set("Sec-Fetch-Site", "cross-site").send(machine("m-2"))).status,
    ).toBe(403);

    const made = await open.api.post("/v1/keys").send({ name: "first", role: "admin" });

    expect((await open.api.get("/v1/machines")).status).toBe(401);
    expect((await open.api.get("/v1/machines").set(bearer(made.body.key))).status).toBe(200);
    await open.api.post(`/v1/keys/${made.body.key_id}/revoke`).set(bearer(made.body.key));
    expect((await open.api.get("/v1/machines")).status).toBe(401);
  });
});

describe("npm run key", () => {
  it("makes, lists and revokes keys, in the list of changes, too", async () => {
    const [key] = (await runKeyCommand(db, ["add", "operator", "night", "shift"])).split("\n");
    // A running service reads the table again at most once a second for a key that it does not know.
    await expect
      .poll(async () => (await api.get("/v1/machines").set(bearer(key!))).status, { timeout: 5000 })
      .toBe(200);

    expect(await runKeyCommand(db, ["list"])).toContain(`${key!.slice(0, 17)}…  operator  night shift`);
    expect(await runKeyCommand(db, ["revoke", "night", "shift"])).toContain("is revoked");
    expect(await runKeyCommand(db, ["list"])).toMatch(/night shift .*revoked 20/);
    const changes = await api.get("/v1/audit?limit=2").set(bearer(adminKey));
    expect(changes.body.items.map((item: { operation: string }) => item.operation)).toEqual([
      "revokeKey",
      "createKey",
    ]);
  });

  it.each([
    [[], /usage/],
    [["add", "boss", "x"], /usage/],
    [["list", "x"], /usage/],
    [["revoke", "who is that"], /There is no key named "who is that"/],
    [["add", "operator", "page"], /there is, or was, a key/i],
  ])("refuses %j", async (words, message) => {
    await expect(runKeyCommand(db, words)).rejects.toThrow(message);
  });
});
