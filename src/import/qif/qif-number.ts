import { shiftDecimal } from "../../core/notation/decimal-text.js";
import type { QifNumber } from "./qif-document.js";
import type { QifNode } from "./qif-nodes.js";

const number = /^([+-]?)(\d*)(?:\.(\d*))?(?:[eE]([+-]?\d{1,3}))?$/;
const digitsOfDouble = 15;
const mostPlaces = 30;

/**
 * The decimal that a document means. Of more than 15 significant digits, which is what a double is printed with that it may be
 * read back, the shortest decimal is taken that is the same double (IEEE 754:2019, clause 5.12.2): 25.399999999999999 is 25.4.
 * @returns undefined for what is no decimal (xs:decimal, xs:double without INF and NaN: XML Schema 1.1 part 2)
 */
export function readQifDecimal(text: string): string | undefined {
  const bare = text.trim();
  const match = bare.length > 60 ? null : number.exec(bare);
  if (!match) return undefined;
  const [, sign = "", whole = "", fraction = "", exponent = "0"] = match;
  if (whole === "" && fraction === "") return undefined;
  const significant = (whole + fraction).replace(/^0+/, "").length;
  if (significant > digitsOfDouble) {
    const short = String(Number(bare));
    if (short.replace(/e.*$/, "").length < bare.length) return plain(short);
  }
  return plain(`${sign}${whole || "0"}${fraction === "" ? "" : `.${fraction}`}e${exponent}`);
}

function plain(text: string): string | undefined {
  const [mantissa = "", exponent = "0"] = text.split("e");
  const shift = Number(exponent);
  if (Math.abs(shift) > mostPlaces) return undefined;
  const bare = mantissa.replace(/^\+/, "");
  return shift === 0 ? bare : shiftDecimal(bare, shift);
}

/** The number in an element, with the name of the unit that it bears. */
export function numberOf(node: QifNode | undefined): QifNumber | undefined {
  const decimal = node && readQifDecimal(node.text);
  if (decimal === undefined) return undefined;
  const unit = node!.attributes.linearUnit ?? node!.attributes.angularUnit;
  return unit === undefined ? { decimal } : { decimal, unit };
}
