import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create } from "../support/shop.js";

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

const { api } = await createTestApp();
let layouts = 0;

const longTable = {
  format: "table",
  unit: "mm",
  table: {
    separator: ",",
    columns: {
      piece: "Piece",
      characteristic: "Feature",
      value: "Actual",
      lower_limit: "Low",
      upper_limit: "High",
      result: "Result",
    },
  },
  translate: { characteristic: { WIDTH: "12" } },
};

async function createLayout(layout: object): Promise<string> {
  const { layout_id } = await create(api, "/v1/log-layouts", { name: `layout ${++layouts}`, ...layout });
  return layout_id;
}

async function post(query: object, body: string | Buffer, headers: Record<string, string> = {}) {
  const text = new URLSearchParams(query as Record<string, string>);
  let request = api.post(`/v1/readings/imports?${text}`).set("content-type", "text/csv");
  for (const [name, value] of Object.entries(headers)) request = request.set(name, value);
  return request.send(body as string);
}

async function readings(batchId: string): Promise<Answer[]> {
  const { body } = await api.get(`/v1/readings?batch_id=${batchId}&limit=500`);
  return body.items.map(({ piece, value, verdict, characteristic }: Answer) => ({
    piece,
    value,
    verdict,
    characteristic,
  }));
}

const header = "Piece,Feature,Actual,Low,High,Result\n";
const rows = [
  "1,WIDTH,12.003,11.97,12.03,pass",
  "2,WIDTH,12.004,11.97,12.03,pass",
  "3,WIDTH,12.041,11.97,12.03,fail",
];

describe("POST /v1/readings/imports", () => {
  it("takes each reading of a table in, with what the file says beside our verdict", async () => {
    const { batch } = await runningBatch(api, {
      features: [{ characteristic: "12", nominal: "12", lower_deviation: -0.03, upper_deviation: 0.03 }],
    });
    const layout_id = await createLayout(longTable);

    const { status, body } = await post({ layout_id, batch_id: batch.batch_id }, header + rows.join("\n"));

    expect(status).toBe(201);
    expect(body).toMatchObject({
      status: "complete",
      accepted: 3,
      duplicates: 0,
      refused_count: 0,
      lines: 4,
    });
    expect(body.verdicts).toEqual({ conforming: 2, nonconforming: 1, uncertain: 0 });
    expect(body.next.action).not.toBe("run_on");
    expect(await readings(batch.batch_id)).toEqual([
      { piece: 1, value: 12.003, verdict: "conforming", characteristic: "12" },
      { piece: 2, value: 12.004, verdict: "conforming", characteristic: "12" },
      { piece: 3, value: 12.041, verdict: "nonconforming", characteristic: "12" },
    ]);
    const beside = await api.get(`/v1/readings/imports/${body.import_id}/readings`);
    expect(beside.body.items[2]).toMatchObject({
      line: 4,
      verdict: "nonconforming",
      upper_limit: 12.03,
      said: { upper_limit: "12.03", within: false, result: "fail" },
    });
  });
});
