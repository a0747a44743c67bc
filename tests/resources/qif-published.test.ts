import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { create, gaugeBody, machineBody } from "../support/shop.js";

const { api } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

const folder = process.env.ONSIZE_SAMPLES;

/** A document of public origin, which is not kept here. */
function sample(file: string): string | undefined {
  const path = folder === undefined ? undefined : join(folder, file);
  if (path !== undefined && existsSync(path)) return readFileSync(path, "utf8");
  process.stderr.write(`${file} is skipped: ONSIZE_SAMPLES does not name the folder of published samples\n`);
  return undefined;
}

const post = (path: string, document: string) =>
  api.post(path).set("content-type", "application/xml").send(document);

/** Makes the part of a document as it is proposed, opens a batch of it and reads the document in. */
async function readIn(file: string, document: string, units: string): Promise<Answer> {
  const proposed = await post(`/v1/part-proposals?${units}`, document);
  expect(proposed.status, proposed.text).toBe(201);
  const { proposal_id, features, number } = proposed.body;
  const machine = await create(api, "/v1/machines", machineBody({ name: `${file} mill` }));
  const exact = { repeatability: 0.0000001, expanded_uncertainty: 0.0000001, resolution: 0.0000001 };
  const gauge = await create(api, "/v1/gauges", gaugeBody({ name: `${file} mm`, kind: "other", ...exact }));
  const protractor = await create(
    api,
    "/v1/gauges",
    gaugeBody({ name: `${file} deg`, kind: "other", unit: "deg", ...exact }),
  );
  const accepted = await api.post(`/v1/part-proposals/${proposal_id}/accept`).send({
    by: "R. Stone",
    number: number ?? file,
    revision: proposed.body.revision ?? "A",
    name: file,
    features: features.map(({ item, missing, kind }: Answer) => ({
      item,
      ...(missing.includes("limits") && { leave_out: true }),
      ...(missing.includes("kind") && { kind: "internal" }),
      gauge_id: kind === "angle" ? protractor.gauge_id : gauge.gauge_id,
      cut_by: [],
    })),
  });
  expect(accepted.status, accepted.text).toBe(201);
  const { part } = accepted.body;
  const batch = await create(api, "/v1/batches", {
    name: file,
    part_id: part.part_id,
    machine_id: machine.machine_id,
  });
  const devices = Object.fromEntries(
    ["CMM1", "CMM2", "CMM", "CALIPERS", "GAGE PINS"].map((device) => [device, gauge.name]),
  );
  const translate = { gauge: devices };
  const { layout_id } = await create(api, "/v1/log-layouts", {
    name: file,
    format: "qif",
    piece_from: "count",
    translate,
  });
  const query = `?layout_id=${layout_id}&batch_id=${batch.batch_id}&first_piece=1&${units}`;
  const { body } = await post(`/v1/readings/imports${query}`, document);
  return { ...body, part, query, batch };
}

async function all(path: string): Promise<Answer[]> {
  const items: Answer[] = [];
  for (let cursor = ""; ; ) {
    const { body } = await api.get(`${path}?limit=200${cursor}`);
    items.push(...body.items);
    if (body.next_cursor === null) return items;
    cursor = `&cursor=${encodeURIComponent(body.next_cursor)}`;
  }
}

const every = (pieces: number) => Array.from({ length: pieces }, (_, i) => i + 1);

describe("published QIF documents, from the part that they propose to verdicts", () => {
  // Counts and bad pieces as the description of the published files gives them. Not taken in: what has no tolerance, no kind here or no name.
  it.each([
    ["qif/plate-20-parts-incoming.v21.qif", 620, 0, every(20), ""],
    ["qif/cover-20-parts-incoming.v21.qif", 541, 1, [], ""],
    [
      "qif/plate-20-parts-first-article-no-units.v21.qif",
      760,
      0,
      every(20).filter((piece) => piece !== 12),
      "unit=mm&angle_unit=deg",
    ],
    ["qif/cover-20-parts-first-article-no-units.v21.qif", 560, 0, [20], "unit=mm&angle_unit=deg"],
    ["qif/sheet-6-parts-serials.v30.qif", 228, 0, [2, 3, 6], ""],
    ["qif/sphere-2-results-no-units.v30.qif", 4, 2, [1, 2], "unit=mm"],
    ["qif/results-13-measurements.v30.qif", 13, 2, [1], ""],
    ["qif/plate-7-measurements.v30.qif", 7, 0, [1], ""],
  ])("%s", async (file, count, without, bad, units) => {
    const document = sample(file)?.replaceAll("Part Number 2", file); // two parts bear the same number
    if (document === undefined) return;

    const read = await readIn(file, document, units);

    expect(read.accepted, JSON.stringify(read.refused.slice(0, 3))).toBe(count - without);
    expect(read).toMatchObject({ status: "complete", refused_count: without, limits_differ: 0 });
    const told = await all(`/v1/imports/${read.import_id}/readings`);
    expect(told).toHaveLength(count - without);
    const opposite = told.filter(
      ({ said, verdict }) =>
        said.within !== null && verdict === (said.within ? "nonconforming" : "conforming"),
    );
    expect(opposite).toEqual([]);
    const outside = told.filter(({ said, verdict }) => verdict !== "conforming" && said.within === false);
    expect([...new Set(outside.map(({ piece }) => piece))].sort((a, b) => a - b)).toEqual(bad);
    const again = (await post(`/v1/readings/imports${read.query}`, document)).body;
    expect(again).toMatchObject({ accepted: 0, duplicates: count - without });
  });
});
