import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create } from "../support/shop.js";

const { api } = await createTestApp();

const limits = { lower_deviation: -0.05, upper_deviation: 0.05 };
const flatness = {
  kind: "form",
  geometric_characteristic: "flatness",
  cut_by: [],
  nominal: undefined,
  lower_deviation: undefined,
  upper_deviation: undefined,
};

// What is right of each file stands in the description of the samples (tests/import/data/README.md).
it.each([
  [
    "mtconnect/streams-feature-measurement.xml",
    "mtconnect",
    [
      { characteristic: "BORE1", kind: "internal", nominal: "32", ...limits },
      { characteristic: "WEB1", kind: "external", nominal: "8", ...limits },
    ],
    [
      ["BORE1", "32.008", "conforming", "pass"],
      ["WEB1", "7.938", "nonconforming", "fail"],
    ],
  ],
  [
    "dmis/plate-results.dmo",
    "dmis",
    [
      { characteristic: "DAT_A FLAT1", upper_limit: 0.1, ...flatness },
      {
        characteristic: "CIRC1 DIAM2",
        kind: "internal",
        nominal: "6.35",
        lower_deviation: -0.05,
        upper_deviation: 0.15,
      },
    ],
    [
      ["DAT_A FLAT1", "0.023", "conforming", "pass"],
      ["CIRC1 DIAM2", "6.2", "nonconforming", "fail"],
    ],
  ],
])("%s gives its readings with the file's result beside ours", async (file, format, features, wanted) => {
  const { batch } = await runningBatch(api, { features });
  const { layout_id } = await create(api, "/v1/log-layouts", { name: file, format, piece_from: "count" });
  const document = readFileSync(new URL(`../import/data/samples/${file}`, import.meta.url), "utf8");
  const query = `?layout_id=${layout_id}&batch_id=${batch.batch_id}&first_piece=1`;

  const { body } = await api
    .post(`/v1/readings/imports${query}`)
    .set("content-type", "text/plain")
    .send(document);

  expect(body).toMatchObject({ status: "complete", results_differ: 0 });
  const told = (await api.get(`/v1/imports/${body.import_id}/readings`)).body.items;
  expect(
    told.map(
      ({ characteristic, value, verdict, said }: Record<string, string> & { said: { result: string } }) => [
        characteristic,
        value,
        verdict,
        said.result,
      ],
    ),
  ).toEqual(wanted);
});
