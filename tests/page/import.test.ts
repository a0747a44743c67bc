import { existsSync } from "node:fs";
import { createRequire } from "node:module";
import axe from "axe-core";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";

const executablePath = process.env.ONSIZE_CHROMIUM ?? "/usr/bin/chromium";
const hasBrowser = existsSync(executablePath);

describe.skipIf(!hasBrowser)("importing a log from the page", async () => {
  const require = createRequire(import.meta.url);
  const { buildPage } = require("../../src/page/build.mjs") as { buildPage: () => number };
  buildPage();
  const { app, api } = await createTestApp();
  let browser: Browser;
  let page: Page;
  let shop: Awaited<ReturnType<typeof runningBatch>>;

  beforeAll(async () => {
    browser = await chromium.launch({ executablePath, args: ["--no-sandbox"] });
  });
  afterAll(() => browser.close());

  beforeEach(async (context) => {
    shop = await runningBatch(api);
    const at = app.server.address();
    page = await browser.newPage({ viewport: { width: 380, height: 900 } });
    page.setDefaultTimeout(8_000);
    await page.goto(`http://127.0.0.1:${typeof at === "object" ? at?.port : ""}/#/import`);
    await page.getByRole("heading", { name: "Import a log" }).waitFor();
    context.onTestFinished(() => page.close());
  });

  const give = (name: string, text: string) =>
    page
      .locator("input[type=file]")
      .setInputFiles({ name, mimeType: "text/plain", buffer: Buffer.from(text) });
  const readings = async () =>
    (await api.get(`/v1/readings?batch_id=${shop.batch.batch_id}`)).body.items.map(
      ({ piece, value }: { piece: number; value: number }) => [piece, value],
    );
  const lines = (count: number, write: (piece: number) => string) =>
    Array.from({ length: count }, (_, index) => write(index + 1)).join("\n");

  it("asks which of two meanings a number has and in which unit it is, then takes the file in", async () => {
    await give("gauge.csv", `BALLOON;PIECE;READ\n${lines(3, (piece) => `BORE A;${piece};12,00${piece}`)}\n`);
    await page.getByRole("button", { name: "describe a new layout" }).click();
    await page.getByLabel("into the job").selectOption(shop.batch.batch_id);
    for (const [column, field] of [
      ["BALLOON", "characteristic"],
      ["PIECE", "piece"],
      ["READ", "value"],
    ] as const)
      await page.getByLabel(new RegExp(`^${column}`)).selectOption(field);

    await page.getByRole("button", { name: "it is 12.001: the comma is the decimal sign" }).click();
    await page.getByRole("button", { name: "12.001 is in mm" }).click();
    await page.getByRole("heading", { name: "3 readings", exact: true }).waitFor();
    const { characteristic } = shop.part.features[0];
    await page.getByLabel('"BORE A" is').selectOption(characteristic);
    await page.getByText(`feature ${characteristic}, piece 3`).waitFor();
    await page.getByLabel("name of the layout").fill(`csv of ${shop.batch.name}`);
    await page.getByRole("button", { name: "keep the layout" }).click();
    await page.getByRole("button", { name: "dry run" }).click();
    await page.getByRole("region", { name: "Dry run" }).waitFor();
    expect(await readings()).toEqual([]);
    await page.getByRole("button", { name: "take it in" }).click();

    await page.getByRole("region", { name: "What became of it" }).getByText("readings taken in").waitFor();
    expect(await readings()).toEqual([
      [1, 12.001],
      [2, 12.002],
      [3, 12.003],
    ]);
  });

  it("reads refused lines again after the layout was mended", async () => {
    const { characteristic } = shop.part.features[0];
    const layout = {
      name: `log of ${shop.batch.name}`,
      format: "text",
      unit: "mm",
      rules: [{ kind: "record", pattern: "^(?P<characteristic>\\S+) P(?P<piece>\\d+) (?P<value>[\\d.]+)$" }],
    };
    expect((await api.post("/v1/log-layouts").send(layout)).status).toBe(201);
    await page.reload();
    await give("probe.log", `${characteristic} P1 12.004\nHOLE P2 12.005\n`);
    await page.getByRole("button", { name: `${layout.name}: 2 readings, 0 refused` }).click();
    await page.getByLabel("into the job").selectOption(shop.batch.batch_id);
    await page.getByRole("button", { name: "take it in" }).click();
    const refused = page.getByRole("list", { name: "Refused lines" });
    await refused.getByText("HOLE P2 12.005").waitFor();

    await page.getByLabel('"HOLE" is').selectOption(characteristic);
    await page.getByRole("button", { name: "keep the layout" }).click();
    await page.getByText("layout is kept").waitFor();
    await page.getByRole("button", { name: "read the refused lines again" }).click();

    await page.getByText("1 of 1 refused lines are read now").waitFor();
    expect(await readings()).toEqual([
      [1, 12.004],
      [2, 12.005],
    ]);
  });

  it("takes a long file in by parts, each reading once", async () => {
    const { characteristic } = shop.part.features[0];
    const layout = {
      name: `long log of ${shop.batch.name}`,
      format: "table",
      unit: "mm",
      table: { separator: ";", columns: { characteristic: "F", piece: "P", value: "V", note: "N" } },
    };
    expect((await api.post("/v1/log-layouts").send(layout)).status).toBe(201);
    await page.reload();
    const note = "n".repeat(1500);
    await give(
      "long.csv",
      `F;P;V;N\n${lines(1500, (piece) => `${characteristic};${piece};12.001;${note}`)}\n`,
    );
    await page.getByRole("button", { name: new RegExp(`^${layout.name}`) }).click();
    await page.getByText("in the first part of the file").waitFor();
    await page.getByLabel("into the job").selectOption(shop.batch.batch_id);
    const parts: string[] = [];
    page.on("request", (request) => request.url().includes("/content") && parts.push(request.url()));
    await page.getByRole("button", { name: "take it in" }).click();

    await page
      .getByRole("region", { name: "What became of it" })
      .getByText("1500")
      .waitFor({ timeout: 30_000 });
    expect(parts.length).toBeGreaterThan(1);
  });

  it.each([
    [380, "light"],
    [1920, "light"],
    [380, "dark"],
    [1920, "dark"],
  ] as const)(
    "has no serious fault of accessibility at %i px in %s, and fits",
    async (width, colorScheme) => {
      await page.setViewportSize({ width, height: 1000 });
      await page.emulateMedia({ colorScheme });
      await give(
        "gauge.csv",
        `BALLOON;PIECE;READ\n${lines(5, (piece) => `A;${piece};12,00${piece}`)}\nsum;;5\n`,
      );
      await page.getByRole("button", { name: "describe a new layout" }).click();
      await page.getByLabel(/^BALLOON/).selectOption("characteristic");
      await page.getByLabel(/^READ/).selectOption("value");
      await page.getByRole("button", { name: "it is 12.001: the comma is the decimal sign" }).waitFor();
      if (process.env.ONSIZE_SCREENSHOTS)
        await page.screenshot({
          path: `${process.env.ONSIZE_SCREENSHOTS}/import-${width}-${colorScheme}.png`,
          fullPage: true,
        });

      await page.evaluate(axe.source);
      const { violations } = await page.evaluate(() =>
        (globalThis as unknown as { axe: typeof axe }).axe.run({ resultTypes: ["violations"] }),
      );
      expect(
        violations
          .filter(({ impact }) => impact === "serious" || impact === "critical")
          .map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" ")}`),
      ).toEqual([]);
      expect(await page.locator("html").evaluate((html) => html.scrollWidth)).toBeLessThanOrEqual(width);
    },
  );
});
