import { parseDecimal, toMm } from "../core/quantity.js";
import { type Expansion, thermalPlaces } from "../core/temperature/expansion.js";
import { materials } from "../core/temperature/materials.js";
import { reductionStandard, type ThermalBody } from "../core/temperature/reduction-uncertainty.js";
import { referenceMicroC, sizeAt20, type Warmth } from "../core/temperature/size-at-20.js";
import { isTooCoarse } from "../core/tolerance/gauge-fitness.js";
import { nearMatches } from "../http/near-matches.js";
import type { BatchView } from "./batch-view.js";
import type { FeatureView } from "./feature-view.js";
import type { GaugeView } from "./gauge-view.js";
import { saySize } from "./words.js";

/** How a reading was brought to 20 °C. */
export interface Reduction {
  sizeAsReadPm: number;
  part: Warmth;
  /** Undefined coefficient: nothing is known of the gauge, which was at 20 °C. */
  gauge: { coefficientPicoPerK: number | undefined; temperatureMicroC: number };
  /** Standard uncertainty of the reduction, mm. */
  standardMm: number;
  /** The gauge by itself, without what the warmth adds to its uncertainty. */
  gaugeItself: GaugeView;
  sizePm: number;
  /** What the same gauge would show of a size at 20 °C when both are as warm as they were. */
  asRead(sizePm: number): number;
}

/** Each temperature is taken to be known within 1 °C: u = 1 / √3 K. Common practice with a contact thermometer, no source. */
const temperatureStandardK = 1 / Math.sqrt(3);
/**
 * Temperatures given as equal: part and gauge lay side by side, and their difference is known within 0.5 °C:
 * u²(tp − ts) = 2 (1 − r) / 3 = 0.25 / 3. Otherwise the two are independent.
 */
const correlationSideBySide = 0.875;
/** A gauge at 20 °C of which nothing is known: steel, for what its temperature leaves unsure. Its size needs no coefficient. */
const unknownGauge: Expansion = { coefficientPicoPerK: 11.5e6, standardPicoPerK: 0 };

/** What is missing to reduce a reading, at which member of it. */
export interface ReductionFault {
  at: "temperature_c" | "gauge_temperature_c";
  detail: string;
}

/** Brings a reading that carries temperatures to 20 °C, or says what it lacks; undefined where it carries none. */
export function reduceReading(
  given: { temperature_c?: string | number | undefined; gauge_temperature_c?: string | number | undefined },
  sizeAsReadPm: number,
  part: BatchView["part"],
  gauge: GaugeView,
): Reduction | ReductionFault | undefined {
  const partMicroC = readMicroC(given.temperature_c);
  const gaugeMicroC = readMicroC(given.gauge_temperature_c);
  if (partMicroC === undefined) {
    if (gaugeMicroC === undefined) return undefined;
    return { at: "temperature_c", detail: "is missing: gauge_temperature_c is of use only with the part's" };
  }
  if (gaugeMicroC === undefined) {
    return {
      at: "gauge_temperature_c",
      detail:
        "is missing: say how warm the gauge was too. Where it lay beside the part send the same as temperature_c; where it was kept, or set on its master, at 20 °C send 20",
    };
  }
  if (!part.expansion) return { at: "temperature_c", detail: askForPart(part, given.temperature_c!) };
  if (!gauge.expansion && gaugeMicroC !== referenceMicroC) {
    return { at: "gauge_temperature_c", detail: askForGauge(gauge, given.gauge_temperature_c!) };
  }
  const partWarmth = warmth(part.expansion, partMicroC);
  const gaugeExpansion = gauge.expansion ?? unknownGauge;
  const gaugeWarmth = warmth(gaugeExpansion, gaugeMicroC);
  return {
    sizeAsReadPm,
    part: partWarmth,
    gauge: { coefficientPicoPerK: gauge.expansion?.coefficientPicoPerK, temperatureMicroC: gaugeMicroC },
    standardMm: reductionStandard(
      toMm(sizeAsReadPm),
      body(part.expansion, partMicroC),
      body(gaugeExpansion, gaugeMicroC),
      partMicroC === gaugeMicroC ? correlationSideBySide : 0,
    ),
    gaugeItself: gauge,
    sizePm: sizeAt20(sizeAsReadPm, partWarmth, gaugeWarmth),
    asRead: (sizePm) => sizeAt20(sizePm, gaugeWarmth, partWarmth),
  };
}

function readMicroC(value: string | number | undefined): number | undefined {
  return value === undefined ? undefined : parseDecimal(value, thermalPlaces);
}

function warmth({ coefficientPicoPerK }: Expansion, temperatureMicroC: number): Warmth {
  return { coefficientPicoPerK, temperatureMicroC };
}

function body(expansion: Expansion, microC: number): ThermalBody {
  return {
    coefficientPerK: expansion.coefficientPicoPerK / 1e12,
    coefficientStandardPerK: expansion.standardPicoPerK / 1e12,
    from20K: (microC - referenceMicroC) / 1e6,
    temperatureStandardK,
  };
}

function askForPart(part: BatchView["part"], temperature: string | number): string {
  const { number, revision, partId, material } = part;
  const names = material === null ? [] : nearMatches(material, namesOfMaterials);
  const near = names.length > 0 ? ` (near: ${names.map((name) => `"${name}"`).join(", ")})` : "";
  const unknown =
    material === null
      ? `it is not said what ${number} revision ${revision} is made of`
      : `how far "${material}" grows is not known here`;
  return `cannot be used: ${unknown}, so its size at 20 °C does not follow from one at ${temperature} °C. PATCH /v1/parts/${partId} with its "expansion_coefficient" in µm per metre and kelvin, or with a "material" that GET /v1/materials lists${near}, and send the reading again`;
}

const namesOfMaterials = materials.flatMap(({ name, aliases }) => [name, ...aliases]);

function askForGauge({ name, gaugeId }: GaugeView, temperature: string | number): string {
  return `cannot be used: it is not known what "${name}" is made of, so how far it had grown at ${temperature} °C is not. PATCH /v1/gauges/${gaugeId} with a "material" that GET /v1/materials lists (for most callipers and micrometers "steel") or with its "expansion_coefficient", and send the reading again`;
}

/** A gauge as it counts for a reduced reading: what the reduction leaves unsure is added in quadrature. */
export function widenGauge(gauge: GaugeView, standardMm: number): GaugeView {
  const { variance, expandedPm, coverageFactor: k } = gauge;
  return {
    ...gauge,
    variance: variance + standardMm ** 2,
    standardMm: Math.hypot(gauge.standardMm, standardMm),
    expandedPm:
      expandedPm === undefined ? undefined : Math.round(Math.hypot(expandedPm, k * standardMm * 1e9)),
  };
}

/**
 * Whether the warmth matters: the correction is above a tenth of the tolerance or the expanded uncertainty of the gauge, or
 * what it leaves unsure is what makes the reading too coarse. The tenth is the gaugemaker's rule (common practice, no source).
 */
export function isWarm(reduction: Reduction, feature: FeatureView, roomMm: number): boolean {
  const { gaugeItself, sizeAsReadPm, sizePm, standardMm } = reduction;
  const { lowerPm, upperPm } = feature;
  const tolerancePm = lowerPm === undefined || upperPm === undefined ? 2 * roomMm * 1e9 : upperPm - lowerPm;
  const expandedPm = gaugeItself.expandedPm ?? 2 * gaugeItself.standardMm * 1e9;
  const correctionPm = Math.abs(sizePm - sizeAsReadPm);
  return (
    10 * correctionPm > tolerancePm ||
    correctionPm > expandedPm ||
    (!isTooCoarse(gaugeItself.standardMm, roomMm) &&
      isTooCoarse(widenGauge(gaugeItself, standardMm).standardMm, roomMm))
  );
}

/** Part temperatures from here on are hardly touched by hand: degrees Fahrenheit may have been typed. */
const tooHotToHoldMicroC = 59e6;

/** What a person should know of a reading that is flagged as warm. */
export function sayWarmth(
  reduction: Reduction,
  name: string,
  piece: number,
  unit: "mm" | "inch",
  sure: boolean,
): string {
  const { part, gauge, sizeAsReadPm, sizePm, standardMm } = reduction;
  const degrees = (microC: number) => `${microC / 1e6} °C`;
  const read = `${name} of piece ${piece} read ${saySize(sizeAsReadPm, unit)} at ${degrees(part.temperatureMicroC)}, with the gauge at ${degrees(gauge.temperatureMicroC)}`;
  const reduced = `at 20 °C that is ${saySize(sizePm, unit)} ± ${saySize(2e9 * standardMm, unit)}`;
  const off = part.temperatureMicroC === referenceMicroC ? gauge : part;
  const patience = `let the ${off === gauge ? "gauge" : "piece"} ${off.temperatureMicroC > referenceMicroC ? "cool" : "warm up"} and measure again`;
  const advice = sure
    ? `${patience}, or trust the reduced size, by which it was judged`
    : `${patience}: as it stands the verdict is not sure`;
  const fahrenheit =
    part.temperatureMicroC >= tooHotToHoldMicroC
      ? ` If ${part.temperatureMicroC / 1e6} was meant in °F, void it and send ${((part.temperatureMicroC / 1e6 - 32) / 1.8).toFixed(1)}.`
      : "";
  return `${read}: ${reduced}; ${advice}.${fahrenheit}`;
}
