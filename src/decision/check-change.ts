import { mmPerInch } from "../core/quantity.js";
import type { BatchView } from "./batch-view.js";
import { sayPm } from "./words.js";

/** Why a value is too far from the one in force to be taken unasked; undefined where it is not. */
export function explainLargeChange(
  {
    name,
    unit,
    largestChangePm,
    leastIncrementPm,
  }: Pick<BatchView["machine"], "name" | "unit" | "largestChangePm" | "leastIncrementPm">,
  label: string,
  valuePm: number,
  beforePm: number,
): string | undefined {
  const changePm = valuePm - beforePm;
  if (Math.abs(changePm) <= largestChangePm) return undefined;
  const fits = (pm: number) => pm !== 0 && Math.abs(pm - beforePm) <= largestChangePm;
  const say = (pm: number) => sayPm(Math.round(pm / leastIncrementPm) * leastIncrementPm, unit);
  const shifted = [10, 100, 1000].flatMap((power) => [valuePm / power, valuePm * power]).find(fits);
  const converted = [valuePm / mmPerInch, valuePm * mmPerInch].find(fits);
  const slips = [
    ...(shifted === undefined ? [] : [`with the decimal point elsewhere ${say(shifted)} would fit`]),
    ...(converted === undefined ? [] : [`with inch and mm exchanged ${say(converted)} would fit`]),
  ];
  const usual =
    slips.length > 0 ? slips.join(", ") : "a slip of the decimal point or of inch and mm is the usual reason";
  return (
    `${sayPm(valuePm, unit)} is ${sayPm(Math.abs(changePm), unit)} away from the ${sayPm(beforePm, unit)} that ${label} holds there, ` +
    `and ${name} allows ${sayPm(largestChangePm, unit)} at a time: ${usual}. ` +
    'Correct the value; if the control really shows it, send "confirmed": true and it is recorded all the same'
  );
}
