import { readFileSync } from "node:fs";

/** What is true of a simulated shop. Lengths in mm; what is absent does not happen there. */
export interface Scenario {
  name: string;
  note: string;
  /** Not among the first sixteen. */
  added?: boolean;
  pieces: number;
  tools: ScenarioTool[];
  registers: ScenarioRegister[];
  features: ScenarioFeature[];
  gauges: Record<string, ScenarioGauge>;
  /** Warms up over `tau` pieces; cools down in breaks. */
  thermal?: {
    amplitude?: Record<string, number>;
    tau?: number;
    breaks?: { before: number; keep?: number }[];
  };
  /** Swings with the hall's temperature. */
  ambient?: { amplitude?: Record<string, number>; period: number };
  fixtureShifts?: { piece: number; shift: Record<string, number> }[];
  oddPiece?: { probability: number; size: number };
  keyError?: { probability: number };
  readingDelay?: { min?: number; max: number };
  /** Piece k sits in seat (k − 1) mod count + 1; a seat register is one value per seat. */
  seats?: { count: number; registers?: { id: string; leastIncrement?: number }[] };
  /** The first piece of an edge may be cut again. */
  recut?: boolean;
  /** The piece taken out to be measured is one of the last m. */
  unsurePiece?: { m: number };
  /** Another part with the same edges. */
  batches?: { fromPiece: number; part: string; partShiftSd?: Record<string, number> }[];
}

export interface ScenarioTool {
  id: string;
  plannedLife: number;
  life?: number;
  lifeCv?: number;
  wear?: { breakIn?: number; breakInPieces?: number; rate?: number; rateCv?: number; acceleration?: number };
  chip?: { perPiece: number; size: Record<string, number> };
}

export interface ScenarioRegister {
  id: string;
  tool: string;
  leastIncrement?: number;
  initial?: number;
  setupSd?: number;
  setupMeanSd?: number;
  wearGain?: number;
}

export interface ScenarioFeature {
  id: string;
  nominal: number;
  lower?: number;
  upper?: number;
  target?: number;
  /** Change of size per +1 in a register. */
  sensitivities: Record<string, number>;
  seatSensitivities?: Record<string, number>;
  noise: number;
  gauge: string;
  gauges?: string[];
  bias?: number;
  biasSd?: number;
  seatSd?: number;
  growth?: number;
  growthTool?: string;
  oddGain?: number;
  /** +1: a large size has metal left; −1: a small one has. */
  metal?: number;
  spring?: number;
  part?: string;
}

export interface ScenarioGauge {
  resolution: number;
  repeatability?: number;
  bias?: number;
  biasSd?: number;
  driftPerPiece?: number;
  driftSd?: number;
  jump?: { piece: number; size: number };
  grossProbability?: number;
  reference?: boolean;
  uncertainty?: number;
  delay?: number;
}

export const scenarios = JSON.parse(
  readFileSync(new URL("scenarios.json", import.meta.url), "utf8"),
) as Scenario[];

export function scenarioNamed(name: string): Scenario {
  const found = scenarios.find((scenario) => scenario.name === name);
  if (!found) throw new RangeError(`there is no scenario ${name}`);
  return found;
}
