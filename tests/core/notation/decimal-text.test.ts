import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  addDecimals,
  compareDecimals,
  multiplyDecimals,
  negateDecimal,
  shiftDecimal,
} from "../../../src/core/notation/decimal-text.js";

const decimals = fc
  .tuple(fc.bigInt({ min: -(10n ** 20n), max: 10n ** 20n }), fc.nat(12))
  .map(([whole, places]) => shiftDecimal(String(whole), -places));

describe("decimals as text", () => {
  it("add 10.1 and 0.2 to 10.3, which doubles do not", () => {
    expect(addDecimals("10.1", "0.2")).toBe("10.3");
    expect(10.1 + 0.2).not.toBe(10.3);
  });

  it("keep the places of the finer one", () => {
    expect(addDecimals("8.00", "-0.050")).toBe("7.950");
    expect(multiplyDecimals("1182040", "0.0001")).toBe("118.2040");
    expect(negateDecimal("0.00")).toBe("0.00");
  });

  it("compare by their value, not by their text", () => {
    expect(compareDecimals("8.0", "8.000")).toBe(0);
    expect(compareDecimals("-0.1", "-0.05")).toBe(-1);
    expect(compareDecimals("10", "9.999")).toBe(1);
  });

  it("come back from a sum, a product's shift and a change of sign", () => {
    fc.assert(
      fc.property(decimals, decimals, fc.integer({ min: -9, max: 9 }), (a, b, shift) => {
        expect(compareDecimals(addDecimals(addDecimals(a, b), negateDecimal(b)), a)).toBe(0);
        expect(compareDecimals(shiftDecimal(shiftDecimal(a, shift), -shift), a)).toBe(0);
        expect(compareDecimals(multiplyDecimals(a, b), multiplyDecimals(b, a))).toBe(0);
      }),
    );
  });

  it.each(["", "abc", "1e5", ".5", "1."])("throw at %j, which is none", (text) => {
    expect(() => addDecimals(text, "1")).toThrow(RangeError);
    expect(() => compareDecimals("1", text)).toThrow(RangeError);
    expect(() => negateDecimal(text)).toThrow(RangeError);
    expect(() => multiplyDecimals(text, "1")).toThrow(RangeError);
    expect(() => shiftDecimal(text, 1)).toThrow(RangeError);
  });
});
