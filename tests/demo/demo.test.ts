import type { AddressInfo } from "node:net";
import { describe, expect, it } from "vitest";
import { Client } from "../../src/demo/client.js";
import { Shift, StoryError } from "../../src/demo/shift.js";
import type { Shop } from "../../src/demo/shop.js";
import { tellStory } from "../../src/demo/story.js";
import { Teller } from "../../src/demo/tell.js";
import { createTestApp } from "../support/app.js";

const first = await createTestApp();
const second = await createTestApp();

function addressOf({ app }: typeof first): string {
  return `http://127.0.0.1:${(app.server.address() as AddressInfo).port}`;
}

async function storyAt(address: string, signal?: AbortSignal): Promise<string> {
  let text = "";
  await tellStory(address, new Teller((more) => (text += more), false), { signal });
  return text;
}

describe("the demo", () => {
  it("tells the same story on every fresh database", async () => {
    const text = await storyAt(addressOf(first));

    expect(await storyAt(addressOf(second))).toBe(text);
    expect(text).toContain("11  Piece 1 is done");
    expect(text.split("\n").filter((line) => line.length > 96)).toEqual([]);
  });

  it("breaks off where the service refuses", async () => {
    await expect(storyAt(addressOf(first))).rejects.toThrow(/refused POST \/v1\/machines with 409/);
  });

  it("breaks off when it is interrupted", async () => {
    await expect(storyAt(addressOf(first), AbortSignal.abort())).rejects.toThrow("aborted");
  });
});

describe("Shift.take", () => {
  const next = { action: "measure", piece: 2, why: "Measure 11 Tongue width on piece 2." } as const;
  const change = {
    correction_id: "1-1",
    status: "proposed",
    kind: "change",
    register_label: "D7 wear",
    unit: "mm",
    value_now: 0,
    change: 0.056,
    value_after: 0.056,
    features: [],
    why: "it runs large",
    arithmetic: [],
    cautions: [],
    line: null,
  };
  const shift = new Shift(new Client("http://127.0.0.1:1"), new Teller(() => {}, false), {} as Shop);
  const take = (corrections: (typeof change)[], expected: Parameters<Shift["take"]>[1]) => () =>
    shift.take({ next, corrections }, expected);

  it("refuses another step than the story's", () => {
    expect(take([], { action: "run_on" })).toThrow(StoryError);
  });

  it("refuses a change where none may be proposed, and the lack of one where one has to be", () => {
    const expected = { action: "measure", change: { register: "D7 wear", about: -0.056 } } as const;

    expect(take([change], { action: "measure" })).toThrow("no change of D7 wear may be proposed here");
    expect(take([], expected)).toThrow("the service proposes none");
  });

  it("refuses a change with the wrong sign", () => {
    const expected = { action: "measure", change: { register: "D7 wear", about: -0.056 } } as const;

    expect(take([change], expected)).toThrow("the service says 0.056");
    expect(take([{ ...change, change: -0.055 }], expected)).not.toThrow();
  });
});
