import { once } from "node:events";
import { expect, it } from "vitest";
import type { Block } from "../../src/report/blocks.js";
import { renderPdf } from "../../src/report/pdf.js";

it("goes no further once nobody reads on, and holds back while nobody does", async () => {
  let made = 0;
  let ended = false;
  async function* endless(): AsyncGenerator<Block> {
    try {
      yield { kind: "title", text: "a report without an end", below: "" };
      for (;;) {
        made += 1;
        yield { kind: "paragraph", text: `line ${made} ${"of many words ".repeat(50)}` };
      }
    } finally {
      ended = true;
    }
  }
  const out = renderPdf({ title: "t", madeAt: "2026-03-02T07:41:00.000Z", blocks: endless() }, "a4");
  await once(out, "readable");
  const pause = () => new Promise((resolve) => setTimeout(resolve, 100));
  let before = -1;
  while (made !== before) {
    before = made;
    await pause();
  }

  out.destroy();
  await pause();

  expect(made).toBeLessThan(before + 10);
  expect(ended).toBe(true);
});
