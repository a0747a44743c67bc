import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";

const adminKey = "a key of the shop's own".replaceAll(" ", "-");
const { api } = await createTestApp({ adminKey });

describe("with a key set", () => {
  it.each(["/v1/machines", "/v1/tools", "/v1/parts/1", "/%761/machines"])(
    "GET %s returns 401 without the key",
    async (path) => {
      const response = await api.get(path);

      expect(response.status).toBe(401);
      expect(response.type).toBe("application/problem+json");
      expect(response.headers["www-authenticate"]).toBe("Bearer");
      expect(response.body.detail).toMatch(/Authorization: Bearer/);
    },
  );

  it("is asked for before a body is read", async () => {
    const response = await api.post("/v1/machines").set("content-type", "text/plain").send("x");

    expect(response.status).toBe(401);
  });

  it.each([
    "Bearer wrong",
    `Bearer ${adminKey}x`,
    `Basic ${adminKey}`,
    adminKey,
    "Bearer ",
    `Bearer ${adminKey} x`,
  ])("returns 401 for the header %j", async (header) => {
    expect((await api.get("/v1/machines").set("Authorization", header)).status).toBe(401);
  });

  it.each(["Bearer", "bearer"])("lets the key through as %s", async (scheme) => {
    expect((await api.get("/v1/machines").set("Authorization", `${scheme} ${adminKey}`)).status).toBe(200);
  });

  it.each(["/healthz", "/readyz", "/openapi.json", "/docs/"])("leaves %s open", async (path) => {
    expect((await api.get(path)).status).toBe(200);
  });
});
