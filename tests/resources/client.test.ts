import createClient from "openapi-fetch";
import { describe, expect, it } from "vitest";
import type { paths } from "../../openapi/openapi.js";
import { createTestApp } from "../support/app.js";

const { app } = await createTestApp();
const address = app.server.address();
const port = typeof address === "object" && address ? address.port : 0;
const client = createClient<paths>({ baseUrl: `http://127.0.0.1:${port}` });

describe("a client made from the contract", () => {
  it("sets up a machine and a tool, and lists them", async () => {
    const machine = await client.POST("/v1/machines", {
      params: { header: { "idempotency-key": "client-1" } },
      body: { name: "mill-2", kind: "mill", unit: "mm", least_increment: 0.001, largest_change: "0.2" },
    });
    const tool = await client.POST("/v1/tools", {
      body: {
        machine_id: machine.data?.machine_id ?? "",
        number: 7,
        name: "10 mm finishing end mill",
        kind: "end_mill",
        registers: [{ number: 7, label: "D7 wear", controls: "radial", holds: "radius", value: 0 }],
      },
    });
    const tools = await client.GET("/v1/tools", {
      params: { query: { limit: 10, machine_id: machine.data?.machine_id ?? "" } },
    });

    expect(tool.data?.registers[0]?.label).toBe("D7 wear");
    expect(tools.data?.items).toEqual([tool.data]);
  });

  it("sees a problem as the contract describes it", async () => {
    const { data, error, response } = await client.GET("/v1/machines/{machine_id}", {
      params: { path: { machine_id: "987654" } },
    });

    expect(data).toBeUndefined();
    expect(response.status).toBe(404);
    expect(error?.detail).toMatch(/no machine 987654/);
  });
});
