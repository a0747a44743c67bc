import { existsSync } from "node:fs";
import { createRequire } from "node:module";
import axe from "axe-core";
import { type Browser, chromium, type Locator, type Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";

const executablePath = process.env.ONSIZE_CHROMIUM ?? "/usr/bin/chromium";
const hasBrowser = existsSync(executablePath);

describe.skipIf(!hasBrowser)("setting up from the page", async () => {
  const require = createRequire(import.meta.url);
  const { buildPage } = require("../../src/page/build.mjs") as { buildPage: () => number };
  buildPage();
  const { app, api } = await createTestApp();
  let address: string;
  let browser: Browser;
  let page: Page;
  let shop: Awaited<ReturnType<typeof runningBatch>>;
  const thrown: string[] = [];

  beforeAll(async () => {
    const at = app.server.address();
    address = `http://127.0.0.1:${typeof at === "object" ? at?.port : ""}/#/setup`;
    browser = await chromium.launch({ executablePath, args: ["--no-sandbox"] });
    shop = await runningBatch(api);
  });
  afterAll(() => browser.close());

  beforeEach(async (context) => {
    page = await browser.newPage({ viewport: { width: 380, height: 900 }, locale: "de-DE" });
    page.setDefaultTimeout(8_000);
    page.on("pageerror", (error) => thrown.push(String(error)));
    await page.goto(address);
    await page.getByRole("heading", { name: "Set-up", exact: true }).waitFor();
    context.onTestFinished(() => page.close());
  });

  const feature = (number: string) => page.getByRole("group", { name: `Feature ${number}`, exact: true });
  const within = (place: Page | Locator, label: string) => place.getByLabel(new RegExp(`^${label}`)).first();
  const newPart = async (number: string) => {
    await page.getByRole("link", { name: "enter a part" }).click();
    await page.getByLabel("drawing number").fill(number);
    await page.getByLabel(/^revision/).fill("A");
  };
  const partOf = async (number: string) => {
    const { body } = await api.get(`/v1/parts?number=${number}`);
    const ids = body.items.map(({ part_id }: { part_id: string }) => part_id);
    return (await api.get(`/v1/parts/${ids.at(-1)}`)).body;
  };
  const paste = async (place: Locator, text: string) => {
    await place.focus();
    await page.evaluate(`{
      const clipboardData = new DataTransfer();
      clipboardData.setData("text/plain", ${JSON.stringify(text)});
      const event = new ClipboardEvent("paste", { clipboardData, bubbles: true, cancelable: true });
      document.activeElement.dispatchEvent(event);
    }`);
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

  it("takes machine, tool, gauge, part and job, and the first reading", async () => {
    await page.getByRole("link", { name: "enter a machine" }).click();
    const machine = page.getByRole("form", { name: "New machine" });
    await machine.getByLabel("name").fill("mill-9");
    await machine.getByLabel("smallest step").fill("0,001");
    await machine.getByLabel("most that one correction").fill("0,2");
    await machine.getByRole("button", { name: "set the machine up" }).click();
    const tool = page.getByRole("form", { name: "New tool" });
    await tool.getByLabel("tool number").fill("3");
    await tool.getByLabel("what it is").fill("12 mm finisher");
    await tool.getByLabel("as the control labels it").fill("D3 wear");
    await tool.getByLabel("its number").fill("3");
    await tool.getByLabel("the control holds a").selectOption("radius");
    await tool.getByLabel("it shows now").fill("-0,02");
    await tool.getByText("Plus 0,01 mm makes an outside size cut on both sides 0,02 mm bigger").waitFor();
    await tool.getByText("a wrong sign makes the next part worse").waitFor();
    await tool.getByRole("button", { name: "set the tool up" }).click();
    await page.getByText("Tool 3 is set up").waitFor();
    await page.getByRole("link", { name: "Set-up" }).last().click();

    await page.getByRole("link", { name: "enter a gauge" }).click();
    await page.getByRole("form", { name: "New gauge" }).getByLabel("name").fill("micrometer 9");
    await page.getByLabel("smallest step it shows").fill("0,001");
    await page.getByRole("button", { name: "set the gauge up" }).click();

    await newPart("SU-1");
    const first = feature("1");
    await within(first, "name").fill("tongue");
    await within(first, "kind").selectOption("external");
    await within(first, "nominal").fill("6,00");
    await within(first, "±, mm").fill("0,05");
    await within(first, "measured with").selectOption({ label: "micrometer 9" });
    await within(first, "cut by").selectOption({ label: "D3 wear (mill-9, tool 3: 12 mm finisher)" });
    await within(first, "which cuts").selectOption("2");
    await first.getByText("Plus makes it bigger: +0,01 mm in D3 wear changes it by +0,02 mm").waitFor();
    await first.getByText("Good from 5,95 to 6,05 mm; aim 6 mm").waitFor();
    await page.getByRole("button", { name: "set the part up" }).click();

    await page.getByRole("link", { name: "open a job of it" }).click();
    await page.getByLabel("job, by its order number").fill("SU-1-1");
    await page.getByLabel("on machine").selectOption({ label: "mill-9" });
    await page.getByLabel("seats of the fixture").fill("A, B");
    await page.getByRole("button", { name: "open the job" }).click();
    await page.getByRole("link", { name: "SU-1-1" }).and(page.locator("[aria-current]")).waitFor();
    await page.getByRole("heading", { name: "Measure piece 1" }).waitFor();
    await page.locator(".lines input").first().fill("6,01");
    await page.keyboard.press("Enter");
    await page.getByTestId("result").getByText("Good").waitFor();

    const part = await partOf("SU-1");
    const { body } = await api.get("/v1/tools");
    expect(body.items.at(-1).registers).toMatchObject([
      { label: "D3 wear", holds: "radius", sign: "normal", start_value: -0.02 },
    ]);
    expect(part.features[0]).toMatchObject({
      nominal: "6.00",
      lower_limit: 5.95,
      upper_limit: 6.05,
      cut_by: [{ effect: 2 }],
    });
  });

  it("makes ten like holes of one, numbered from its own number", async () => {
    await newPart("SU-2");
    const one = feature("1");
    await within(one, "number").fill("12");
    const hole = feature("12");
    await within(hole, "kind").selectOption("internal");
    await within(hole, "nominal").fill("8");
    await within(hole, "limits by").selectOption("fit");
    await hole.getByLabel("fit", { exact: true }).fill("H7");
    await hole.getByRole("button", { name: "like holes" }).click();
    await page.getByLabel("together they are called").fill("bolt holes");
    await page.getByText("12.1 to 12.10").waitFor();
    await page.getByRole("button", { name: "make them" }).click();
    await page.getByRole("button", { name: "set the part up" }).click();
    await page.getByRole("link", { name: "open a job of it" }).waitFor();

    const { features } = await partOf("SU-2");
    expect(features.map(({ characteristic }: { characteristic: string }) => characteristic)).toEqual(
      Array.from({ length: 10 }, (_, i) => `12.${i + 1}`),
    );
    // ISO 286-2:2010, table 2: 8 H7 is 0 to +0.015.
    expect(features[9]).toMatchObject({
      pattern: { name: "bolt holes", order: 10, of: 10 },
      lower_limit: 8,
      upper_limit: 8.015,
    });
  });

  it("takes rows of a spreadsheet, says what is wrong at its field, and copies the next revision", async () => {
    await newPart("SU-3");
    await paste(
      within(feature("1"), "number"),
      "No\tWhat\tNominal\t+\t-\n1\tWidth\t40,0\t0,1\n2\tBore\tØ20\tH7\n3\tLength\t80\t0,3\t-0,1\n4\tStep\t12x\t0,1\n",
    );
    await page.getByText("4 features pasted").waitFor();
    for (const [number, kind] of [
      ["1", "external"],
      ["2", "internal"],
      ["3", "length"],
      ["4", "depth"],
    ] as const)
      await within(feature(number), "kind").selectOption(kind);
    await page.getByRole("button", { name: "set the part up" }).click();
    await page.getByText("It is said at its fields").waitFor();
    const wrong = within(feature("4"), "nominal");
    await expect.poll(() => wrong.getAttribute("aria-invalid")).toBe("true");
    await wrong.fill("12");
    await within(feature("4"), "±").fill("0,1");
    await page.getByRole("button", { name: "set the part up" }).click();
    await page.getByRole("link", { name: "copy it as the next revision" }).click();
    await page.getByLabel(/^revision/).fill("B");
    await page.getByRole("button", { name: "set the part up" }).click();
    await page.getByRole("heading", { name: "SU-3 rev B" }).waitFor();

    const part = await partOf("SU-3");
    expect(part.revision).toBe("B");
    expect(
      part.features.map((one: { lower_limit: number; upper_limit: number }) => [
        one.lower_limit,
        one.upper_limit,
      ]),
    ).toEqual([
      [39.9, 40.1],
      [20, 20.021],
      [79.9, 80.3],
      [11.9, 12.1],
    ]);
  });

  it("is entered by keyboard alone, Enter going on to the next feature", async () => {
    await newPart("SU-4");
    await page.getByLabel(/^general tolerance/).fill("m");
    await within(feature("1"), "number").focus();
    const toField = async (label: string) => {
      for (let i = 0; i < 40; i++) {
        const name = await page.evaluate<string>(
          'document.activeElement?.closest("label")?.querySelector("span")?.textContent ?? ""',
        );
        if (name.startsWith(label)) return;
        await page.keyboard.press("Tab");
      }
      throw new Error(`no field ${label}`);
    };
    for (const nominal of ["30", "80"]) {
      await toField("kind");
      await page.keyboard.type("length");
      await toField("nominal");
      await page.keyboard.type(nominal);
      await toField("limits by");
      await page.keyboard.type("general");
      await toField("class");
      await page.keyboard.press("Tab");
      await page.keyboard.press("Enter");
    }
    const button = page.getByRole("button", { name: "set the part up" });
    for (let i = 0; i < 60 && !(await button.evaluate((it) => it.matches(":focus"))); i++)
      await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    await page.getByRole("link", { name: "open a job of it" }).waitFor();

    // ISO 2768-1:1989, table 1, class m: above 6 to 30 ±0.2, above 30 to 120 ±0.3.
    const { features } = await partOf("SU-4");
    expect(
      features.map((one: { characteristic: string; upper_limit: number }) => [
        one.characteristic,
        one.upper_limit,
      ]),
    ).toEqual([
      ["1", 30.2],
      ["2", 80.3],
    ]);
  });

  it("closes a job with a name", async () => {
    const { batch } = await runningBatch(api);
    await page.reload();
    await page.getByRole("link", { name: `close ${batch.name}` }).click();
    await page.getByLabel("your name").fill("late shift");
    await page.getByRole("button", { name: "close the job" }).click();

    await page.getByRole("heading", { name: "Set-up", exact: true }).waitFor();
    const { body } = await api.get(`/v1/batches/${batch.batch_id}`);
    expect(body.closed_by).toBe("late shift");
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
      for (const place of [
        "",
        `/machine/${shop.machine.machine_id}`,
        "/gauge/new",
        "/job/new",
        `/part/${shop.part.part_id}?copy=1`,
      ]) {
        await page.goto(`${address}${place}`);
        await page.locator("main h2").waitFor();
        if (place.includes("part/")) await page.getByText("Good from").waitFor();
        if (process.env.ONSIZE_SCREENSHOTS)
          await page.screenshot({
            path: `${process.env.ONSIZE_SCREENSHOTS}/setup${place.replaceAll(/\W/g, "-")}-${width}-${colorScheme}.png`,
            fullPage: true,
          });
        expect(await findFaults()).toEqual([]);
        expect(await page.locator("html").evaluate((html) => html.scrollWidth)).toBeLessThanOrEqual(width);
      }
    },
  );

  it("throws nothing", () => {
    expect(thrown).toEqual([]);
  });
});
