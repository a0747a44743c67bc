export interface FeaturePlan {
  characteristic: string;
  name: string;
  kind: string;
  operation: string;
  /** Gauge and tool by the shop's own names; absent: none is needed. */
  gauge?: string;
  register?: string;
  tool?: string;
  walls?: number;
  plus_makes?: string;
  /** What else the service takes of its kind: limits in one of their ways, places, a rule ... */
  [member: string]: unknown;
}

/** What the drawing asks for beyond the sizes that a register moves: looked at once a piece is done. */
const done = { operation: "30" };

export const finalFeatures: FeaturePlan[] = [
  {
    ...done,
    characteristic: "21",
    name: "Bearing seat",
    kind: "external",
    nominal: "20",
    fit: "f7",
    places: ["0°", "90°"],
    decision_rule: "guarded_acceptance",
    gauge: "micrometer",
  },
  {
    ...done,
    characteristic: "22",
    name: "Overall length",
    kind: "length",
    nominal: "120",
    lower_deviation: "-0.1",
    upper_deviation: "0.1",
    gauge: "calliper",
  },
  {
    ...done,
    characteristic: "23",
    name: "Flange face",
    kind: "form",
    geometric_characteristic: "flatness",
    toleranced_length: "60", // its tolerance is the part's general one, class K
    gauge: "coordinateMachine",
  },
  {
    ...done,
    characteristic: "24",
    name: "Bolt hole 1, place",
    kind: "position",
    upper_limit: "0.2",
    material_condition: "maximum",
    size_of: { characteristic: "14" },
    gauge: "coordinateMachine",
  },
  {
    ...done,
    characteristic: "25",
    name: "Bevel",
    kind: "angle",
    nominal: "30",
    shorter_leg: "3", // and of this one class m
    gauge: "protractor",
  },
  {
    ...done,
    characteristic: "26",
    name: "Bore, Ra",
    kind: "roughness",
    roughness_parameter: "Ra",
    upper_limit: "1.6",
    gauge: "roughnessTester",
  },
  {
    ...done,
    characteristic: "27",
    name: "Thread M6",
    kind: "go_no_go",
    gauged: "internal_thread",
    thread_standard: "iso_metric",
    gauge: "threadPlug",
    tool: "tap",
  },
  { ...done, characteristic: "28", name: "Free of burrs", kind: "visual" },
  { ...done, characteristic: "29", name: "Bolt holes", kind: "count", lower_limit: "3", upper_limit: "3" },
];
