import { type ChildProcess, spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { createRequire } from "node:module";
import type { AddressInfo } from "node:net";
import { fileURLToPath } from "node:url";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create, gaugeBody } from "../support/shop.js";

const executablePath = process.env.ONSIZE_CHROMIUM ?? "/usr/bin/chromium";
const hasBrowser = existsSync(executablePath);

/** The service as a process of its own, on a database that is there already. */
async function start(databaseUrl: string, port = "0"): Promise<{ child: ChildProcess; address: string }> {
  const server = fileURLToPath(new URL("../../src/server.ts", import.meta.url));
  const env = { ...process.env, DATABASE_URL: databaseUrl, PORT: port, LOG_LEVEL: "warn" };
  const child = spawn(process.execPath, ["--import", "tsx", server], {
    env,
    stdio: ["ignore", "pipe", "inherit"],
  });
  const address = await new Promise<string>((resolve, reject) => {
    child.once("exit", (code) => reject(new Error(`the service ended with ${code}`)));
    child.stdout!.on("data", (chunk: Buffer) => {
      const line = /http:\/\/\S+/.exec(chunk.toString());
      if (line) resolve(line[0]);
    });
  });
  return { child, address };
}

async function stop(child: ChildProcess, signal: NodeJS.Signals): Promise<void> {
  const ended = new Promise((resolve) => child.once("exit", resolve));
  child.kill(signal);
  await ended;
}

describe.skipIf(!hasBrowser)("the page while the shop goes on", async () => {
  const require = createRequire(import.meta.url);
  (require("../../src/page/build.mjs") as { buildPage: () => number }).buildPage();
  const { app, api, url } = await createTestApp();
  const address = `http://127.0.0.1:${(app.server.address() as AddressInfo).port}`;
  let browser: Browser;
  beforeAll(async () => {
    browser = await chromium.launch({ executablePath, args: ["--no-sandbox"] });
  });
  afterAll(() => browser.close());

  const open = async (at: string): Promise<Page> => {
    const page = await browser.newPage({ viewport: { width: 380, height: 800 }, locale: "de-DE" });
    page.setDefaultTimeout(10_000);
    await page.goto(at);
    return page;
  };
  const large = (page: Page) => page.locator(".next h2");

  it("shows what others enter without being asked, well before it would ask by itself", async () => {
    const shop = await runningBatch(api);
    const page = await open(`${address}/#/now/${shop.batch.batch_id}`);
    await large(page).getByText("Measure piece 1").waitFor();
    await page.waitForTimeout(1000);

    const begun = Date.now();
    await shop.read(1, 12.001);
    await large(page).getByText("Measure piece 2").waitFor();

    expect(Date.now() - begun).toBeLessThan(5000);
    await page.close();
  });

  it("asks by itself where there is no stream of events", async () => {
    const shop = await runningBatch(api);
    const page = await browser.newPage();
    await page.route("**/v1/events", (route) => route.fulfill({ status: 503, body: "{}" }));
    await page.goto(`${address}/#/now/${shop.batch.batch_id}`);
    await large(page).getByText("Measure piece 1").waitFor();

    await shop.read(1, 12.001);
    await large(page).getByText("Measure piece 2").waitFor();
    expect(await page.getByText("No connection to the service").count()).toBe(0);
    await page.close();
  });

  it("says that the service is gone when it is killed, and what happened meanwhile once it is back", async () => {
    const shop = await runningBatch(api);
    const first = await start(url);
    const page = await open(`${first.address}/#/now/${shop.batch.batch_id}`);
    await large(page).getByText("Measure piece 1").waitFor();
    await stop(first.child, "SIGKILL");
    await page.getByText("No connection to the service").waitFor();
    expect(await page.locator(".lines button").first().isDisabled()).toBe(true);

    await shop.read(1, 12.001);
    const second = await start(url, new URL(first.address).port);
    await large(page).getByText("Measure piece 2").waitFor();
    expect(await page.getByText("No connection to the service").count()).toBe(0);
    await shop.read(2, 12.02);
    await page.getByRole("region", { name: "Change an offset: D7 wear" }).waitFor();
    await page.close();
    await stop(second.child, "SIGTERM");
  }, 60_000);

  it("asks for what is missing on the piece in hand, and shows what has been read of it", async () => {
    const limits = { lower_deviation: -0.03, upper_deviation: 0.03 };
    const features = [
      { characteristic: "1", nominal: "12", ...limits },
      { characteristic: "2", nominal: "20", ...limits },
    ];
    const shop = await runningBatch(api, { features });
    const page = await open(`${address}/#/now/${shop.batch.batch_id}`);
    await page.locator(".lines input").first().fill("12,001");
    await page.keyboard.press("Enter");

    await page.getByTestId("result").getByText("Good").waitFor();
    expect(await large(page).textContent()).toBe("Measure piece 1");
    expect(await page.locator(".lines > li").count()).toBe(2);
    await page.locator(".lines input:focus").waitFor(); // the next field has the keyboard by itself
    await page.keyboard.type("20,002");
    await page.keyboard.press("Enter");
    await large(page).getByText("Measure piece 2").waitFor();
    await page.close();
  });

  it("has an offset set as advised, and asks to measure the first piece with it", async () => {
    const shop = await runningBatch(api);
    await shop.read(1, 12.02);
    const page = await open(`${address}/#/now/${shop.batch.batch_id}`);
    const card = page.getByRole("region", { name: "Change an offset: D7 wear" });
    await card.waitFor();
    const [proposed] = await shop.proposals();
    expect(await page.getByText(proposed.why, { exact: false }).count()).toBe(1);
    await card.getByLabel("your name").fill("early shift");
    await card.getByRole("button", { name: /^set to −0,/ }).click();

    await card.waitFor({ state: "detached" });
    await large(page).getByText("Measure piece 2").waitFor();
    await page.getByText("first piece after a change").first().waitFor();
    await page.close();
  });

  it("takes every kind of reading", async () => {
    const make = async (body: object) => (await create(api, "/v1/gauges", body)).gauge_id as string;
    const thread_gauge = await make({ name: "thread plug", kind: "thread_gauge", unit: "mm" });
    const protractor = await make(
      gaugeBody({
        name: "protractor",
        kind: "protractor",
        unit: "deg",
        resolution: "5'",
        repeatability: "2'",
        expanded_uncertainty: "5'",
      }),
    );
    await make(gaugeBody({ name: "measuring machine", kind: "coordinate_machine" }));
    const plain = {
      nominal: undefined,
      lower_deviation: undefined,
      upper_deviation: undefined,
      gauge_id: undefined,
      cut_by: [],
    };
    const shop = await runningBatch(api, {
      features: [
        { ...plain, characteristic: "1", kind: "visual", name: "No burrs" },
        {
          ...plain,
          characteristic: "2",
          kind: "go_no_go",
          name: "Thread",
          gauged: "internal_thread",
          gauge_id: thread_gauge,
        },
        { ...plain, characteristic: "3", kind: "count", name: "Holes", lower_limit: 8, upper_limit: 8 },
        { ...plain, characteristic: "4", kind: "position", name: "Hole place", upper_limit: "0.1" },
        {
          ...plain,
          characteristic: "5",
          kind: "angle",
          name: "Bevel",
          nominal: "30",
          gauge_id: protractor,
          lower_deviation: -1,
          upper_deviation: 1,
        },
        {
          ...plain,
          characteristic: "6",
          kind: "roughness",
          name: "Bore finish",
          roughness_parameter: "Ra",
          upper_limit: "1.6",
        },
        {
          characteristic: "7",
          kind: "internal",
          nominal: "20",
          lower_deviation: 0,
          upper_deviation: 0.05,
          places: ["top", "bottom"],
          cut_by: [],
        },
      ],
    });
    const page = await open(`${address}/#/now/${shop.batch.batch_id}`);
    const line = (name: string) => page.locator(".lines > li").filter({ hasText: name });
    const done = (name: string) => line(name).getByTestId("result").waitFor();
    await line("1 No burrs").getByRole("button", { name: "good", exact: true }).click();
    await done("1 No burrs");
    await line("2 Thread").getByRole("button", { name: "no-go enters" }).click();
    const type = async (name: string, texts: string[], unit?: string) => {
      const fields = line(name).locator("input:not([type=hidden])");
      for (const [i, text] of texts.entries()) await fields.nth(i).fill(text);
      if (unit) await line(name).getByRole("combobox").selectOption(unit);
      await page.keyboard.press("Enter");

      await done(name);
    };
    await type("3 Holes", ["8"]);
    await line("4 Hole place").getByLabel("with").selectOption("measuring machine");
    await type("4 Hole place", ["0,03", "-0,02"]);
    await type("5 Bevel", ["29°50'"]);
    await line("6 Bore finish").getByLabel("with").selectOption("measuring machine");
    await type("6 Bore finish", ["1,2"]);
    await type(", top", ["0,788"], "inch");

    const { body } = await api.get(`/v1/readings?batch_id=${shop.batch.batch_id}`);
    const byCharacteristic = new Map(
      body.items.map((one: { characteristic: string }) => [one.characteristic, one]),
    );
    expect(byCharacteristic.get("1")).toMatchObject({ result: "pass", verdict: "conforming" });
    expect(byCharacteristic.get("2")).toMatchObject({ result: "no_go_enters", verdict: "nonconforming" });
    expect(byCharacteristic.get("3")).toMatchObject({ size: 8, verdict: "conforming" });
    // 2 √(0.03² + 0.02²) = 0.0721…
    expect((byCharacteristic.get("4") as { size: number }).size).toBeCloseTo(0.0721, 4);
    expect((byCharacteristic.get("5") as { size: number }).size).toBeCloseTo(29 + 50 / 60, 6);
    expect(byCharacteristic.get("6")).toMatchObject({ size: 1.2, verdict: "conforming" });
    expect(byCharacteristic.get("7")).toMatchObject({ unit: "inch", size: 20.0152, place: "top" });
    await page.close();
  }, 30_000);

  it("shows every machine with its jobs and what is next on each, and leads to them", async () => {
    const shop = await runningBatch(api);
    const page = await open(address);
    const job = page.getByRole("region", { name: shop.machine.name, exact: true }).getByRole("link");
    await job.getByText("Measure piece 1").waitFor();
    await shop.read(1, 12.001);
    await job.getByText("Measure piece 2").waitFor();
    await job.click();

    await large(page).getByText("Measure piece 2").waitFor();
    await page.getByRole("link", { name: "all jobs" }).click();
    await job.waitFor();
    await page.close();
  });
});
