import { existsSync } from "node:fs";
import { createRequire } from "node:module";
import axe from "axe-core";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create } from "../support/shop.js";

const executablePath = process.env.ONSIZE_CHROMIUM ?? "/usr/bin/chromium";
const hasBrowser = existsSync(executablePath);

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

describe.skipIf(!hasBrowser)("tool, feature and job in a browser", async () => {
  const require = createRequire(import.meta.url);
  const { buildPage } = require("../../src/page/build.mjs") as { buildPage: () => number };
  buildPage();
  const { app, api } = await createTestApp();
  const thrown: string[] = [];
  let address: string;
  let browser: Browser;
  let page: Page;
  let shop: Answer;
  let featureId: string;

  /** A worn tool that was corrected and changed, sixty pieces, the last one too big; a second feature with two places. */
  async function wornShop() {
    const shop = await runningBatch(api, {
      features: [
        {
          characteristic: "1",
          name: "Tongue width",
          nominal: "12",
          lower_deviation: -0.03,
          upper_deviation: 0.03,
        },
        {
          characteristic: "2",
          name: "Slot",
          nominal: "8",
          lower_deviation: -0.1,
          upper_deviation: 0.1,
          places: ["left", "right"],
        },
      ],
      seats: ["A", "B"],
      quantity: 200,
    });
    const scatter = [0, 0.002, -0.001, 0.001, -0.002];
    const readings = (from: number, to: number, offset: number) =>
      Array.from({ length: to - from + 1 }, (_, i) =>
        shop.reading(from + i, (12 + offset + 0.0006 * i + scatter[i % 5]!).toFixed(4)),
      );
    await create(api, "/v1/readings", readings(1, 20, 0));
    await create(api, `/v1/registers/${shop.registers.radial}/entries`, {
      batch_id: shop.batch.batch_id,
      from_piece: 21,
      value: -0.006,
      by: "early shift",
    });
    await create(api, "/v1/readings", readings(21, 40, 0));
    await create(api, `/v1/tools/${shop.tool.tool_id}/edges`, {
      batch_id: shop.batch.batch_id,
      from_piece: 41,
      reason: "worn",
      registers: [
        { register_id: shop.registers.radial, value: 0 },
        { register_id: shop.registers.axial, value: 0 },
      ],
    });
    await create(api, "/v1/readings", readings(41, 59, 0));
    for (let twice = 0; twice < 2; twice += 1) await shop.read(60, "12.041");
    return shop;
  }

  beforeAll(async () => {
    const at = app.server.address();
    address = `http://127.0.0.1:${typeof at === "object" ? at?.port : ""}`;
    browser = await chromium.launch({ executablePath, args: ["--no-sandbox"] });
    shop = await wornShop();
    featureId = shop.part.features[0].feature_id;
  });
  afterAll(() => browser.close());

  beforeEach(async (context) => {
    page = await browser.newPage({ viewport: { width: 380, height: 800 }, locale: "de-DE" });
    page.setDefaultTimeout(8_000);
    page.on("pageerror", (error) => thrown.push(String(error)));
    page.on("console", (message) => {
      if (/Content Security Policy/.test(message.text())) thrown.push(message.text());
    });
    context.onTestFinished(() => page.close());
  });

  const open = async (hash: string, heading: string) => {
    await page.goto(`${address}/#/${hash}`);
    await page.getByRole("heading", { name: heading }).first().waitFor();
  };
  const findFaults = async () => {
    await page.evaluate(axe.source);
    const { violations } = await page.evaluate(() =>
      (globalThis as unknown as { axe: typeof axe }).axe.run({ resultTypes: ["violations"] }),
    );
    return violations
      .filter(({ impact }) => impact === "serious" || impact === "critical")
      .map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" ")}`);
  };

  it("shows what an offset holds, for how many pieces it is good, and the edge before", async () => {
    await open(`tool/${shop.tool.tool_id}`, "T7");
    const offset = page.getByRole("region", { name: "D7 wear" });
    const { body: wear } = await api.get(`/v1/tools/${shop.tool.tool_id}/wear`);

    const good = wear.registers[0].pieces_to_limit;
    await offset.getByText(good === null ? "the edge's life" : `${good} pieces`, { exact: true }).waitFor();
    await page.getByText("19 times out of 20").first().waitFor();
    await page.getByRole("link", { name: /^edge 1/ }).click();
    await page.getByText("held at the end").first().waitFor();

    expect(await offset.locator("dd").first().textContent()).toBe("−0,006 mm");
    await offset.getByText("values as a table").click();
    expect(await offset.getByRole("row", { name: /early shift/ }).textContent()).toContain("21");
  });

  it("goes over a chart by keyboard alone and says each piece", async () => {
    await open(`feature/${featureId}?batch=${shop.batch.batch_id}`, "1 Tongue width");
    const chart = page.getByRole("region", { name: /size from piece to piece/ });
    await chart.focus();
    await page.keyboard.press("End");

    await page.getByText(/^Piece 60: 12,041 mm, \+0,041 from the aim\. Out of limits\./).waitFor();
    await page.keyboard.press("ArrowLeft");
    await page.getByText(/^Piece 59: /).waitFor();
  });

  it("says in one sentence what the job holds, and the numbers one step away", async () => {
    await open(`feature/${featureId}?batch=${shop.batch.batch_id}`, "1 Tongue width");
    const { body } = await api.get(`/v1/features/${featureId}/capability?batch_id=${shop.batch.batch_id}`);

    const said = await page.getByTestId("capability").textContent();
    expect(said).toContain(`${body.pieces} pieces measured`);
    expect(said).not.toMatch(/Cpk|Ppk/);
    await page.getByText("Numbers for the quality desk").click();
    expect(await page.getByRole("row", { name: /^Ppk/ }).textContent()).toContain(
      body.overall.ppk.value.toLocaleString("de-DE"),
    );
    await page.getByText(/times something was changed/).click();
    await page.getByText("From piece 41: fresh edge").waitFor();
  });

  it("shows a feature of which nothing was measured, and each of its places", async () => {
    await open(`feature/${shop.part.features[1].feature_id}?batch=${shop.batch.batch_id}`, "2 Slot");

    await page.getByText("Nothing has been measured yet.").waitFor();
    await page.getByRole("link", { name: "right" }).and(page.locator(":not([aria-current])")).click();
    await page.getByRole("link", { name: "right" }).and(page.locator("[aria-current]")).waitFor();
  });

  it("shows pieces by feature, some at a time, with words where nothing was measured", async () => {
    await open(`job/${shop.batch.batch_id}`, shop.batch.name);
    const grid = page.getByRole("region", { name: "Pieces by feature" });
    await grid.getByText("Pieces 36 to 60 of 60").waitFor();

    expect(await grid.getByRole("row", { name: /^60/ }).textContent()).toContain("out of limits, +0,041");
    await grid.getByLabel("from piece").fill("5");
    await page.keyboard.press("Enter");
    await grid.getByText("Pieces 5 to 29 of 60").waitFor();
    expect(await grid.getByRole("row").count()).toBe(26);
    await grid.getByRole("link", { name: "7", exact: true }).click();
    await page.getByRole("heading", { name: "Piece 7, seat A: open" }).waitFor();
    expect(await page.getByRole("row", { name: /^1 Tongue width/ }).textContent()).toContain("Good");
  });

  it("decides about a held piece with a name, asks for an authority where one is needed, and takes it back", async () => {
    await open(`job/${shop.batch.batch_id}`, shop.batch.name);
    await page.getByRole("button", { name: "decide about 60" }).click();
    const form = page.getByRole("region", { name: "Decide about pieces" });
    await form.getByLabel("use as it is").check();
    await form.getByRole("button", { name: "enter it" }).click();
    await form.getByText("Say who you are").waitFor();
    await form.getByLabel("your name").fill("quality");
    await form.getByRole("button", { name: "enter it" }).click();
    await form.getByText("say who allowed it").waitFor();
    await form.getByLabel("allowed by").fill("customer, concession C-114");
    await form.getByRole("button", { name: "enter it" }).click();

    await page.getByText("No piece is held back any more").waitFor();
    const path = `/v1/batches/${shop.batch.batch_id}/decisions`;
    const { body } = await api.get(path);
    expect(body.items).toMatchObject([
      {
        from_piece: 60,
        to_piece: 60,
        decision: "use_as_is",
        authority: "customer, concession C-114",
        by: "quality",
      },
    ]);
    const decided = page.getByRole("region", { name: "Decided" });
    await decided.getByText("take it back").first().click();
    await decided.getByLabel("why").fill("wrong piece");
    await decided.getByLabel("your name").fill("quality");
    await decided.getByRole("button", { name: "take it back" }).click();
    await page.getByRole("heading", { name: /1 piece is held back/ }).waitFor();
  });

  it("opens the report of the job", async () => {
    await open(`job/${shop.batch.batch_id}`, shop.batch.name);
    const href = await page.getByRole("link", { name: "to read" }).getAttribute("href");

    const response = await api.get(href!);

    expect(response.status).toBe(200);
    expect(response.headers["content-type"]).toContain("text/html");
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
      const faults: string[] = [];
      for (const [name, hash, heading] of [
        ["tools", "tool", "Tools"],
        ["tool", `tool/${shop.tool.tool_id}`, "T7"],
        ["edge", `tool/${shop.tool.tool_id}?edge=${(await firstEdge()).edge_id}`, "T7"],
        ["feature", `feature/${featureId}?batch=${shop.batch.batch_id}`, "1 Tongue width"],
        ["jobs", "job", "Jobs"],
        ["job", `job/${shop.batch.batch_id}?piece=60`, shop.batch.name],
      ] as const) {
        await open(hash, heading);
        if (name === "job") await page.getByRole("region", { name: "Piece 60" }).waitFor();
        const folder = process.env.ONSIZE_SCREENSHOTS;
        if (folder)
          await page.screenshot({ path: `${folder}/${name}-${width}-${colorScheme}.png`, fullPage: true });
        faults.push(...(await findFaults()).map((fault) => `${name}: ${fault}`));
        const wide = await page.locator("html").evaluate((html) => html.scrollWidth);
        if (wide > width) faults.push(`${name} is ${wide} px wide`);
      }

      expect(faults).toEqual([]);
    },
  );

  const firstEdge = async () => (await api.get(`/v1/tools/${shop.tool.tool_id}/edges`)).body.items[0];

  it("throws nothing, and asks for no style that its policy forbids", () => {
    expect(thrown).toEqual([]);
  });
});
