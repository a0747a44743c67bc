import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";

const { api, db } = await createTestApp();

async function metric(name: string): Promise<number> {
  const { text } = await api.get("/metrics");
  const line = text.split("\n").find((each) => each.startsWith(`${name} `));
  return Number(line?.slice(name.length + 1));
}

describe("GET /metrics", () => {
  it("counts readings by their verdict, and when the last one came", async () => {
    const good = 'onsize_readings_total{verdict="conforming"}';
    const unsure = 'onsize_readings_total{verdict="uncertain"}';
    const [goodBefore, unsureBefore] = [await metric(good), await metric(unsure)];
    const shop = await runningBatch(api);

    const verdicts = [await shop.read(1, 12), await shop.read(2, 12.04)].map(
      ({ readings }) => readings[0]?.verdict,
    );

    expect(verdicts).toEqual(["conforming", "uncertain"]);
    expect((await metric(good)) - goodBefore).toBe(1);
    expect((await metric(unsure)) - unsureBefore).toBe(1);
    expect(await metric("onsize_last_reading_timestamp_seconds")).toBeGreaterThan(Date.now() / 1000 - 60);
    expect(await metric("onsize_drain_seconds_count")).toBeGreaterThanOrEqual(2);
    expect(await metric("onsize_waiting_readings")).toBe(0);
  });

  it("counts requests by route, and unknown addresses as one", async () => {
    await api.get("/nowhere/1");
    await api.get("/nowhere/2");
    await api.get("/v1/machines/99");
    const { text } = await api.get("/metrics");

    expect(text).toMatch(
      /onsize_request_seconds_count\{method="GET",route="\/v1\/machines\/:machine_id",status="404"\} 1/,
    );
    expect(text).toMatch(/onsize_request_seconds_count\{method="GET",route="none",status="404"\} 2/);
    expect(text).not.toContain("nowhere");
  });

  it("says what waits for a person, and which gauges are overdue", async () => {
    const { body: gauge } = await api.post("/v1/gauges").send({
      name: "old calliper",
      kind: "calliper",
      unit: "mm",
      resolution: 0.01,
      calibration_due: "2020-01-01",
    });
    const shop = await runningBatch(api);
    await shop.read(1, 12.5);
    const { body } = await api.get("/v1/corrections?status=proposed");
    const kinds = (body.items as { kind: string }[]).map(({ kind }) => kind);

    expect(gauge.calibration_due).toBe("2020-01-01");
    expect(await metric("onsize_gauges_overdue")).toBe(1);
    expect(kinds.length).toBeGreaterThan(0);
    for (const kind of new Set(kinds)) {
      expect(await metric(`onsize_open_advice{kind="${kind}"}`)).toBe(
        kinds.filter((one) => one === kind).length,
      );
    }
  });

  it("tells that the database does not answer, and goes on", async () => {
    expect(await metric("onsize_database_up")).toBe(1);
    expect(await metric("onsize_database_bytes")).toBeGreaterThan(1e6);
    await db.destroy();

    expect(await metric("onsize_database_up")).toBe(0);
    expect((await api.get("/metrics")).status).toBe(200);
  });
});
