import type { FastifyRequest } from "fastify";
import { validatorCompiler } from "fastify-type-provider-zod";
import { describe, expect, it } from "vitest";
import { z } from "zod";
import { explainValidation } from "../../src/http/explain-validation.js";
import { Instant, Length, strict } from "../../src/http/types.js";

const Item = strict({
  value: Length,
  unit: z.enum(["mm", "inch"]),
  piece: z.number().int().min(1),
  at: Instant.optional(),
});
const OneOrMany = z.union([Item, z.array(Item).min(1)]);

function explain(schema: z.ZodType, body: unknown) {
  const result = validatorCompiler({ schema, method: "POST", url: "/" })(body) as { error?: unknown };
  return explainValidation(
    { body } as FastifyRequest,
    "body",
    result.error as Parameters<typeof explainValidation>[2],
  );
}

describe("explainValidation", () => {
  it("points at each fault of each item of an array that might have been a single object", () => {
    const good = { value: 6, unit: "mm", piece: 1 };

    expect(
      explain(OneOrMany, [good, { ...good, unit: undefined }, { ...good, value: "", piece: 0 }]),
    ).toEqual([
      { pointer: "/1/unit", detail: 'is missing: send one of "mm", "inch"' },
      { pointer: "/2/value", detail: 'is empty: send a decimal such as 12.005 or "12.005"' },
      { pointer: "/2/piece", detail: "must be at least 1" },
    ]);
    expect(explain(OneOrMany, [])).toEqual([{ pointer: "", detail: "must list at least 1" }]);
  });

  it("points into a single object that might have been an array", () => {
    expect(explain(OneOrMany, { value: "6.04", unit: "mm", piece: 1.5, valu: 3 })).toEqual([
      { pointer: "/piece", detail: "must be a whole number, not 1.5" },
      { pointer: "/valu", detail: '"valu" is not known here; near: "value"' },
    ]);
  });

  it.each([
    ["2026-03-02", /RFC 3339/],
    ["2026-03-02T07:41:00", /RFC 3339/],
    ["2026-02-30T07:41:00Z", /RFC 3339/],
    ["2026-03-02T07:41:00+25:00", /instant/],
    ["", /RFC 3339/],
    [1_772_437_260, /must be a text, not 1772437260/],
  ])("says what an instant is, to %j", (at, detail) => {
    expect(explain(Item, { value: 6, unit: "mm", piece: 1, at })).toEqual([
      { pointer: "/at", detail: expect.stringMatching(detail) },
    ]);
  });

  it("takes instants of any offset", () => {
    expect(Instant.safeParse("2026-03-02T08:41:00.1234+01:00").success).toBe(true);
  });
});
