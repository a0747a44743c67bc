import { existsSync } from "node:fs";
import { createRequire } from "node:module";
import axe from "axe-core";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";

const executablePath = process.env.ONSIZE_CHROMIUM ?? "/usr/bin/chromium";
const hasBrowser = existsSync(executablePath);
if (!hasBrowser)
  process.stderr.write("tests/page skips: no chromium at /usr/bin/chromium or ONSIZE_CHROMIUM\n");

describe.skipIf(!hasBrowser)("the page in a browser", async () => {
  const require = createRequire(import.meta.url);
  const { buildPage } = require("../../src/page/build.mjs") as { buildPage: () => number };
  const compressedBytes = buildPage();
  const { app, api } = await createTestApp();
  const outside: string[] = [];
  let address: string;
  let browser: Browser;
  let page: Page;
  let shop: Awaited<ReturnType<typeof runningBatch>>;

  beforeAll(async () => {
    const at = app.server.address();
    address = `http://127.0.0.1:${typeof at === "object" ? at?.port : ""}`;
    browser = await chromium.launch({ executablePath, args: ["--no-sandbox"] });
  });
  afterAll(() => browser.close());

  beforeEach(async (context) => {
    shop = await runningBatch(api);
    page = await browser.newPage({ viewport: { width: 380, height: 800 }, locale: "de-DE" });
    page.on("request", (request) => {
      if (!request.url().startsWith(address)) outside.push(request.url());
    });
    page.setDefaultTimeout(8_000);
    page.on("pageerror", (error) => outside.push(String(error)));
    await page.goto(address);
    await page.getByRole("link", { name: shop.batch.name }).click();
    await page.getByRole("link", { name: shop.batch.name }).and(page.locator("[aria-current]")).waitFor();
    await page.getByRole("heading", { name: "Measure piece 1" }).waitFor();
    context.onTestFinished(() => page.close());
  });

  const result = () => page.getByTestId("result");
  const read = async (text: string) => {
    await page.locator(".lines input").first().fill(text);
    await page.keyboard.press("Enter");
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

  it("stays below 100 kB compressed", () => {
    expect(compressedBytes).toBeLessThan(100_000);
  });

  it("takes a reading with a comma by keyboard alone and says what came of it", async () => {
    await page.reload();
    const job = page.getByRole("link", { name: shop.batch.name });
    await job.focus();
    await page.keyboard.press("Enter");
    const field = page.locator(".lines input").first();
    await field.waitFor();
    for (let i = 0; i < 50 && !(await field.evaluate((it) => it.matches(":focus"))); i++)
      await page.keyboard.press("Tab");

    await page.keyboard.type("12,004");
    await page.keyboard.press("Enter");

    await result().getByText("Good").waitFor();
    expect(await result().textContent()).toContain("+0,004 mm from the aim");
    const { body } = await api.get(`/v1/readings?batch_id=${shop.batch.batch_id}`);
    expect(body.items.map(({ value }: { value: number }) => value)).toEqual([12.004]);
  });

  it("shows what the service refuses as it says it, and sends no text that is no number", async () => {
    await read("12,0,4");

    expect(await page.getByRole("alert").textContent()).toContain('"12,0,4" is no number');
    const { body } = await api.get(`/v1/readings?batch_id=${shop.batch.batch_id}`);
    expect(body.items).toEqual([]);
  });

  it("sets an offset to another value than advised, and keeps the name", async () => {
    await read("12.02");
    const card = page.getByRole("region", { name: "Change an offset: D7 wear" });
    await card.waitFor();
    await card.getByLabel("your name").fill("early shift");
    await card.getByLabel("other value").fill("-0,005");
    await card.getByRole("button", { name: "set to another value" }).click();

    await card.waitFor({ state: "detached" });
    const { body } = await api.get(`/v1/corrections?status=applied&batch_id=${shop.batch.batch_id}`);
    expect(body.items).toMatchObject([{ value_set: -0.005, by: "early shift" }]);
  });

  it("sets no offset without a name", async () => {
    await read("12.02");
    await page.getByRole("button", { name: /^set to −?-?0/ }).click();

    await page.getByText("Say who you are").waitFor();
    expect((await shop.proposals()).filter(({ kind }: { kind: string }) => kind === "change")).toHaveLength(
      1,
    );
  });

  it("takes the same piece again as cut 2", async () => {
    await read("12.02");
    await result().waitFor();
    await page.getByRole("button", { name: "cut again" }).click();
    await page.getByText("Piece 1, cut 2").waitFor();
    await read("12.001");

    await result().getByText("12,001 mm").waitFor();
    const { body } = await api.get(`/v1/readings?batch_id=${shop.batch.batch_id}`);
    expect(body.items.map(({ cut }: { cut: number }) => cut).sort()).toEqual([1, 2]);
  });

  it("shows what others entered while the connection was lost", async () => {
    await page.context().setOffline(true);
    await page.getByText("No connection to the service").waitFor();
    expect(await page.locator(".lines button").first().isDisabled()).toBe(true);
    await shop.read(1, 12.02);
    await page.context().setOffline(false);

    await page.getByRole("region", { name: "Change an offset: D7 wear" }).waitFor();
    expect(await page.getByText("No connection to the service").count()).toBe(0);
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
      expect(await findFaults()).toEqual([]);
      await read("12.02");
      await page.getByRole("region", { name: "Change an offset: D7 wear" }).waitFor();
      if (process.env.ONSIZE_SCREENSHOTS)
        await page.screenshot({
          path: `${process.env.ONSIZE_SCREENSHOTS}/now-${width}-${colorScheme}.png`,
          fullPage: true,
        });

      expect(await findFaults()).toEqual([]);
      expect(await page.locator("html").evaluate((html) => html.scrollWidth)).toBeLessThanOrEqual(width);
    },
  );

  it("asks no outside address and throws nothing", () => {
    expect(outside).toEqual([]);
  });
});

describe("GET /", () => {
  it.runIf(hasBrowser)(
    "comes with a policy that allows nothing inline and nothing from outside",
    async () => {
      const { api } = await createTestApp();
      const response = await api.get("/");

      expect(response.status).toBe(200);
      const policy = response.headers["content-security-policy"];
      expect(policy).toContain("default-src 'none'");
      expect(policy).not.toContain("unsafe");
      const script = /src="(\/page\/main-[0-9A-Z]{8}\.js)"/.exec(response.text)?.[1] ?? "";
      expect((await api.get(script)).headers["cache-control"]).toContain("immutable");
    },
  );
});
