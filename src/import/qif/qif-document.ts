import type { PrintedUnit } from "../../core/notation/read-unit.js";

/**
 * What a QIF document (ISO 23952:2020; ANSI QIF 2.0 and 2.1 alike) defines beside its measured values, as far as sizes go. Ids
 * are the document's own.
 */
export interface QifDocument {
  /** The document's own persistent id, in lower case. */
  qpid: string | undefined;
  version: string;
  units: QifUnits;
  /** Documents that this one refers to: the persistent id by the id of the reference. Nothing of them is opened. */
  externals: Map<string, string>;
  definitions: Map<string, CharacteristicDefinition>;
  nominals: Map<string, CharacteristicNominal>;
  items: Map<string, CharacteristicItem>;
  /** Names of the features to be measured. */
  features: Map<string, string>;
  devices: Map<string, Device>;
  components: Map<string, Component>;
  parts: Part[];
  sets: Map<string, ResultsSet>;
  /** Of all results together; its times are those of no single piece. */
  inspection: Inspection;
  /** The features that each item was measured on. */
  measuredOn: Map<string, Set<string>>;
  counts: { measurements: number; statistics: number; planSteps: number };
  /** What is odd about it and no reason to refuse it. */
  notes: string[];
}

export interface QifUnits {
  /** Undefined: the document does not say. */
  linear: PrintedUnit | undefined;
  angular: PrintedUnit | undefined;
  /** Units by the names that values may bear. */
  named: Map<string, PrintedUnit>;
}

/** A number with the unit that it bears itself, if any. */
export interface QifNumber {
  decimal: string;
  unit?: string | undefined;
}

export interface CharacteristicDefinition {
  /** "Diameter", "Position": the name of its element before "CharacteristicDefinition". */
  type: string;
  max?: QifNumber | undefined;
  min?: QifNumber | undefined;
  /** True: max and min are limits of size, else deviations from the nominal. */
  areLimits: boolean;
  /** Width of the zone. */
  zone?: QifNumber | undefined;
  /** How much of a profile's zone lies outside the material. */
  outside?: QifNumber | undefined;
  /** "MEASURED", "SET": it has no tolerance, and why. */
  without?: string | undefined;
  /** A boundary that a size away from it widens (ISO 2692). */
  condition?: "maximum" | "least" | undefined;
}

export interface CharacteristicNominal {
  type: string;
  definitionId?: string | undefined;
  target?: QifNumber | undefined;
  name?: string | undefined;
  designator?: string | undefined;
}

export interface CharacteristicItem {
  type: string;
  nominalId?: string | undefined;
  name?: string | undefined;
  designator?: string | undefined;
  description?: string | undefined;
  featureIds: string[];
  deviceIds: string[];
}

export interface Device {
  name?: string | undefined;
  serial?: string | undefined;
}

/** How and by whom something was inspected (InspectionTraceability; Traceability of a component), as the document has it. */
export interface Inspection {
  startedAt?: string | undefined;
  endedAt?: string | undefined;
  lot?: string | undefined;
  operator?: string | undefined;
}

export interface Component extends Inspection {
  serial?: string | undefined;
  status?: string | undefined;
  deviceIds: string[];
}

export interface Part {
  qpid?: string | undefined;
  number?: string | undefined;
  name?: string | undefined;
  version?: string | undefined;
}

/** What was measured in one go, mostly of one piece. */
export interface ResultsSet extends Inspection {
  componentIds: string[];
  status?: string | undefined;
}

/** A measured value as the document has it. */
export interface QifMeasurement {
  line: number;
  /** Its own id. */
  id: string;
  setId: string;
  type: string;
  itemId: string;
  /** The persistent id of the document that holds the item; undefined: this one. */
  itemIn?: string | undefined;
  /** Ids of the features that were measured. */
  featureIds: string[];
  componentIds: string[];
  deviceIds: string[];
  status?: string | undefined;
  /** Undefined: it has none. */
  value?: QifNumber | undefined;
  measuredAt?: string | undefined;
}
