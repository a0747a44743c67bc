import type { ColumnType, Generated } from "kysely";
import type { FeatureKind, GeometricName } from "../core/feature-kind.js";
import type { PrintedUnit } from "../core/notation/read-unit.js";
import type { AngleUnit, LengthUnit, MeasureUnit } from "../core/quantity.js";
import type {
  GeneralClass,
  GeneralToleranceMark,
  GeometricClass,
} from "../core/tolerance/general-tolerance.js";
import type { Gauged, ThreadStandard } from "../core/tolerance/go-no-go.js";
import type { MaterialCondition } from "../core/tolerance/material-condition.js";

/** `numeric` (mm, unless its name or the kind of the feature says otherwise) and `bigint` both arrive as decimal strings; instants as RFC 3339 text in UTC. */
type Numeric = string;
type Id = string;
type Instant = ColumnType<string, string | undefined, string>;
type Json<T> = ColumnType<T, string, string>;

type DecisionRule = "simple" | "guarded_acceptance" | "guarded_rejection" | "iso_14253";

interface Voidable {
  voided_at: string | null;
  void_reason: string | null;
  voided_by: string | null;
}

interface Machine {
  machine_id: Generated<Id>;
  name: string;
  kind: "mill" | "lathe";
  unit: "mm" | "inch";
  least_increment_mm: Numeric;
  largest_change_mm: Numeric;
  largest_change_towards_work_mm: Numeric | null;
  line_template: string | null;
  created_at: Instant;
}

interface Tool {
  tool_id: Generated<Id>;
  machine_id: Id;
  number: number;
  name: string;
  kind: string;
  nominal_diameter_mm: Numeric | null;
  life_pieces: number | null;
  created_at: Instant;
}

interface Register {
  register_id: Generated<Id>;
  machine_id: Id;
  /** Null: a work offset. */
  tool_id: Id | null;
  number: number;
  label: string;
  controls: "radial" | "axial" | "x" | "z" | "work_x" | "work_y" | "work_z";
  holds: "radius" | "diameter" | null;
  sign: "normal" | "reversed";
  start_value_mm: Numeric;
  largest_total_mm: Numeric | null;
  /** Of a work offset that acts on the pieces of one seat only. */
  seat: string | null;
}

interface Edge extends Voidable {
  edge_id: Generated<Id>;
  tool_id: Id;
  number: number;
  reason: "start" | "worn" | "broken" | "chipped" | "indexed" | "new_insert" | "other";
  by_name: string | null;
  created_at: Instant;
}

interface Gauge {
  gauge_id: Generated<Id>;
  name: string;
  kind: string;
  unit: "mm" | "inch" | "deg";
  /** Null: it passes or refuses and shows no number. */
  resolution_mm: Numeric | null;
  repeatability_mm: Numeric | null;
  expanded_uncertainty_mm: Numeric | null;
  coverage_factor: number;
  calibration_due: string | null;
  reference: boolean;
  reads: "size" | "deviation";
  master_size_mm: Numeric | null;
  sense: "normal" | "reversed" | null;
  created_at: Instant;
  material: string | null;
  expansion_coefficient: Numeric | null;
  expansion_uncertainty: Numeric | null;
  minutes_per_reading: Generated<number | null>;
}

interface GaugeCheck extends Voidable {
  gauge_check_id: Generated<Id>;
  gauge_id: Id;
  checked_at: string;
  unit: "mm" | "µm" | "inch" | "deg" | "arcmin" | "arcsec";
  standard_mm: Numeric | null;
  standard_uncertainty_mm: Numeric;
  reading_given: string | null;
  error_mm: Numeric;
  direction_known: boolean;
  allowed_mm: Numeric;
  /** mm² */
  variance: number;
  shift: boolean;
  note: string | null;
  by_name: string | null;
  created_at: Instant;
}

interface GaugeStudy extends Voidable {
  gauge_study_id: Generated<Id>;
  gauge_id: Id;
  kind: "crossed" | "one_part" | "linearity";
  unit: "mm" | "µm" | "inch" | "deg";
  tolerance_mm: Numeric | null;
  readings: Json<unknown[]>;
  options: Json<unknown>;
  result: Json<unknown>;
  repeatability_mm: Numeric;
  note: string | null;
  by_name: string | null;
  created_at: Instant;
  accepted_at: string | null;
  accepted_by: string | null;
  repeatability_before_mm: Numeric | null;
}

interface Part {
  part_id: Generated<Id>;
  number: string;
  revision: string;
  name: string | null;
  unit: "mm" | "inch";
  material: string | null;
  decision_rule: DecisionRule;
  /** Guard band over U. */
  guard_band_factor: number;
  general_tolerance: GeneralToleranceMark | null;
  title_block: ColumnType<TitleBlockLine[] | null, string | null, string | null>;
  created_at: Instant;
  expansion_coefficient: Numeric | null;
  expansion_uncertainty: Numeric | null;
  /** Most that a piece left unmeasured may be out of limits with, as a probability. */
  risk: Generated<number>;
  /** Most pieces from one check to the next. */
  largest_interval: Generated<number>;
}
interface TitleBlockLine {
  places: number;
  plus_minus_mm: Numeric;
}

interface Feature {
  feature_id: Generated<Id>;
  part_id: Id;
  position: number;
  characteristic: string;
  name: string | null;
  kind: FeatureKind;
  operation: string | null;
  nominal: string;
  nominal_mm: Numeric;
  lower_limit_mm: Numeric | null;
  upper_limit_mm: Numeric | null;
  target_mm: Numeric;
  importance: "ordinary" | "key" | "critical";
  /** Null: as the part has it. */
  decision_rule: DecisionRule | null;
  guard_band_factor: number | null;
  gauge_id: Id | null;
  pattern_name: string | null;
  pattern_order: number | null;
  pattern_of: number | null;
  limits_from: "deviations" | "limits" | "fit" | "general_tolerance" | "title_block";
  fit: string | null;
  general_tolerance: GeneralClass | GeometricClass | null;
  broken_edge: boolean;
  places: string[] | null;
  drawing_zone: string | null;
  reference_gauge_id: Id | null;
  /** Where on the part it is, from the part's zero; null: not said. */
  at_x_mm: Numeric | null;
  at_y_mm: Numeric | null;
  at_z_mm: Numeric | null;
  /** Direction in which its size grows. */
  axis: "x" | "y" | "z" | "-x" | "-y" | "-z" | null;
  depth_mm: Numeric | null;
  geometric_characteristic: GeometricName | null;
  roughness_parameter: string | null;
  gauged: Gauged | null;
  thread_standard: ThreadStandard | null;
  material_condition: MaterialCondition | null;
  size_characteristic: string | null;
  size_kind: "internal" | "external" | null;
  size_lower_limit_mm: Numeric | null;
  size_upper_limit_mm: Numeric | null;
  shorter_leg_mm: Numeric | null;
  toleranced_length_mm: Numeric | null;
  rework: "above" | "below" | "either" | "neither" | null;
}

interface FeatureOperationLimits {
  feature_id: Id;
  operation: string;
  position: number;
  /** Null: the feature's own. */
  nominal: string | null;
  nominal_mm: Numeric | null;
  lower_limit_mm: Numeric | null;
  upper_limit_mm: Numeric | null;
  target_mm: Numeric;
  limits_from: "deviations" | "limits" | "fit" | "general_tolerance" | "plating";
  fit: string | null;
  general_tolerance: "f" | "m" | "c" | "v" | null;
  plating_thickness_mm: Numeric | null;
  plating_plus_minus_mm: Numeric | null;
  plating_share: number | null;
  plating_surfaces: number | null;
  plating_thread_angle_deg: number | null;
  growth_mm: Numeric | null;
  reason: string | null;
}

interface FeatureCut {
  feature_id: Id;
  position: number;
  /** Null: a work offset moves it. */
  tool_id: Id | null;
  register_id: Id | null;
  walls: number | null;
  plus_makes: "bigger" | "smaller" | null;
  effect: number | null;
  step_mm: Numeric | null;
}

/** Points as they were sent, in their unit. */
export interface SentPoints {
  points: readonly (readonly (string | number)[])[];
  unit: LengthUnit;
  ball_diameter?: string | number | undefined;
  /** Of a position: where its centre should be, in the coordinates of the points. */
  true_position?: readonly (string | number)[] | undefined;
}

/** What the points of one reading came to; lengths in whole picometres, null where the element has none. */
export interface FitOfPoints {
  points: number;
  redundancy: number;
  ball_diameter_pm: number | null;
  diameter_pm: number | null;
  centre_pm: readonly number[] | null;
  arc_deg: number | null;
  least_squares_pm: number;
  minimum_zone_pm: number | null;
  /** Uncertainty of the size over that of one point; not below 1. */
  uncertainty_factor: number;
}

/** What the tools and registers of the machine brought into a batch. */
export interface BatchStart {
  tools: Record<
    string,
    {
      edge_id: string;
      edge_number: number;
      pieces_cut: number;
      /** Pieces by which one earlier edge in ten had failed; absent: too few have, or the batch is older than that. */
      advised_life?: number;
    }
  >;
  registers: Record<string, RegisterStart>;
}
export interface RegisterStart {
  value_mm: Numeric;
  /** Levels and rates of earlier edges of this register on this part, mm per piece. */
  memory: { levels: number[]; rates: number[] };
  /** Level, rate and their variances that the running edge brings along from another batch. */
  carried: CarriedEdge | null;
}
export interface CarriedEdge {
  level_mm: number;
  rate_mm: number;
  level_variance: number;
  covariance: number;
  rate_variance: number;
  same_part: boolean;
}

interface Batch {
  batch_id: Generated<Id>;
  name: string;
  part_id: Id;
  machine_id: Id;
  operation: string | null;
  quantity: number | null;
  version: Generated<number>;
  reading_count: Generated<number>;
  correction_count: Generated<number>;
  last_piece_cut: Generated<number>;
  counted_piece: Generated<number>;
  start: Json<BatchStart>;
  created_at: Instant;
  closed_at: string | null;
  closed_by: string | null;
  seats: Generated<string[]>;
}

interface EdgeInBatch {
  batch_id: Id;
  edge_id: Id;
  from_piece: number;
}

interface RegisterEntry extends Voidable {
  entry_id: Generated<Id>;
  register_id: Id;
  batch_id: Id;
  from_piece: number;
  from_cut: Generated<number>;
  value_mm: Numeric;
  origin: "person" | "correction" | "edge" | "found" | "log";
  reason: string | null;
  correction_no: number | null;
  edge_id: Id | null;
  follows_entry_id: Id | null;
  by_name: string | null;
  created_at: Instant;
}

interface Interruption extends Voidable {
  interruption_id: Generated<Id>;
  batch_id: Id;
  from_piece: number;
  kind: "stop" | "person_change" | "material_change" | "fixture_change" | "program_change" | "other";
  note: string | null;
  by_name: string | null;
  created_at: Instant;
}

interface Reading extends Voidable {
  batch_id: Id;
  reading_no: number;
  feature_id: Id;
  piece: number;
  cut: number;
  repeat: number;
  /** Null: it passed or failed, or the gauge gave no number. */
  value_mm: Numeric | null;
  value_given: string | null;
  unit: MeasureUnit | null;
  gauge_id: Id | null;
  gauge_variance: number;
  gauge_fit: boolean;
  expanded_uncertainty_mm: Numeric | null;
  measured_at: string | null;
  received_at: Instant;
  taken_by: string | null;
  serial: string | null;
  source_id: string | null;
  identity: string | null;
  piece_within: number | null;
  known_piece: number;
  verdict: "conforming" | "nonconforming" | "uncertain";
  disposition: "accept" | "rework" | "scrap" | "remeasure";
  target_mm: Numeric;
  probability_conforming: number | null;
  prior: "flat" | "process";
  gauge_advice: string | null;
  flags: string[];
  slip: string | null;
  hold_from: number | null;
  hold_to: number | null;
  /** Nonconforming by its own rule and uncertainty, whatever else is known of it. */
  fails: Generated<boolean>;
  /** Conforming, by a gauge that may prove a size. */
  proves: Generated<boolean>;
  size_as_read_mm: Numeric | null;
  temperature_c: Numeric | null;
  gauge_temperature_c: Numeric | null;
  temperature_correction_uncertainty_mm: Numeric | null;
  expansion_coefficient: Numeric | null;
  gauge_expansion_coefficient: Numeric | null;
  place: string | null;
  spring_pass: boolean;
  gauge_error_mm: Numeric | null;
  gauge_doubt_mm: Numeric | null;
  rocked: string[] | null;
  seat: string | null;
  seat_given: boolean;
  gauge_reference: boolean;
  dx_mm: Numeric | null;
  dy_mm: Numeric | null;
  dz_mm: Numeric | null;
  size_mm: Numeric | null;
  bonus_mm: Numeric | null;
  result: "pass" | "fail" | "go_refuses" | "no_go_enters" | null;
  turns: Numeric | null;
  state: "not_measured" | "error" | "over_range" | null;
  advice: string | null;
  fit: Json<FitOfPoints> | null;
  /** What the gauge was known to read beside the reference when it was judged, and the standard uncertainty of that. */
  gauge_deviation_mm: Numeric | null;
  gauge_deviation_uncertainty_mm: Numeric | null;
}

interface ReadingPoints {
  batch_id: Id;
  reading_no: number;
  points: Json<(string | number)[][]>;
  unit: LengthUnit;
  /** As it was sent; null: they are points of the surface. */
  ball_diameter: string | null;
  /** As it was sent; null: of no position. */
  true_position: Json<(string | number)[]> | null;
}

interface Correction {
  batch_id: Id;
  correction_no: number;
  kind: "change" | "measure_again" | "change_tool" | "find_cause" | "check_gauge";
  status: "proposed" | "applied" | "declined" | "superseded" | "settled";
  subject: string;
  tool_id: Id | null;
  register_id: Id | null;
  gauge_id: Id | null;
  piece: number;
  value_now_mm: Numeric | null;
  change_mm: Numeric;
  value_after_mm: Numeric | null;
  reading_nos: number[];
  features: Json<unknown>;
  cause: Json<unknown> | null;
  /** Of advice to find a cause: what it most likely is. */
  causes: Json<unknown> | null;
  why: string;
  arithmetic: string[];
  cautions: string[];
  line: string | null;
  proposed_at: Instant;
  ended_at: string | null;
  from_piece: number | null;
  from_cut: number | null;
  value_found_mm: Numeric | null;
  value_set_mm: Numeric | null;
  was_withdrawn: Generated<boolean>;
  found: string | null;
  reason: string | null;
  by_name: string | null;
}

interface BlockState {
  batch_id: Id;
  block_key: Id;
  state: string;
}
interface BlockCheckpoint extends BlockState {
  piece: number;
}

interface PieceDecision extends Voidable {
  decision_id: Generated<Id>;
  batch_id: Id;
  from_piece: number;
  to_piece: number;
  decision: "rework" | "scrap" | "use_as_is" | "repair" | "return";
  authority: string | null;
  nonconformance: string | null;
  note: string | null;
  measure_again: Id[] | null;
  known_readings: number;
  decided_at: Instant;
  by_name: string | null;
  created_at: Instant;
}

interface FirstArticle extends Voidable {
  first_article_id: Generated<Id>;
  part_id: Id;
  report_number: string;
  extent: "full" | "partial";
  reason: FirstArticleReason;
  note: string | null;
  baseline_id: Id | null;
  pieces: Json<{ batch_id: string; piece: number }[]>;
  /** Balloon numbers that a partial one covers; null: all. */
  characteristics: string[] | null;
  /** By balloon number. */
  remarks: Json<Record<string, { tooling?: string; nonconformance?: string }>>;
  fields: Json<unknown>;
  by_name: string | null;
  created_at: Instant;
}
export type FirstArticleReason =
  | "first_production"
  | "design_change"
  | "source_change"
  | "process_change"
  | "inspection_method_change"
  | "place_change"
  | "tooling_change"
  | "material_change"
  | "program_change"
  | "natural_or_man_made_event"
  | "corrective_action"
  | "lapse_in_production"
  | "other";

interface IdempotencyKey {
  key: string;
  fingerprint: string;
  status: number;
  body: string;
  created_at: Instant;
}

interface LogLayout {
  layout_id: Generated<Id>;
  name: string;
  layout: Json<unknown>;
  version: Generated<number>;
  created_at: Instant;
  changed_at: Instant;
}

interface ToolProposal {
  proposal_id: Generated<Id>;
  machine_id: Id;
  status: Generated<"open" | "accepted" | "declined">;
  kind: string;
  source: string | null;
  unit: "mm" | "inch" | null;
  fingerprint: string;
  items: Json<unknown>;
  others: number;
  choices: Json<unknown> | null;
  outcome: Json<unknown> | null;
  by_name: string | null;
  reason: string | null;
  created_at: Instant;
  decided_at: ColumnType<string | null, string | null, string | null>;
}

interface ToolAsset {
  machine_id: Id;
  asset_id: string;
  tool_id: Id;
  serial: string | null;
  accepted_at: Instant;
}

interface ReadingImport {
  import_id: Generated<Id>;
  layout_id: Id;
  batch_id: Id | null;
  source: string | null;
  settings: Json<ImportSettings>;
  status: Generated<"open" | "complete" | "failed">;
  reason: string | null;
  next_offset: Generated<Id>;
  reader_state: Json<unknown> | null;
  counters: Json<ImportCounters>;
  tallies: Json<ImportTallies>;
  batch_ids: Generated<Id[]>;
  idempotency_key: string | null;
  started_at: Instant;
  moved_at: Instant;
  ended_at: string | null;
}
/** What the sender says of all readings of a file. */
export interface ImportSettings {
  gauge_id?: Id;
  gauge?: string;
  taken_by?: string;
  first_piece?: number;
  /** Of values without one, where the sender has said it; counts more than the layout's. */
  unit?: PrintedUnit;
  angle_unit?: AngleUnit;
}
/** Where a layout counts pieces: how many there were of each characteristic, and from which line on nobody knows. */
export interface ImportCounters {
  pieces: Record<string, number>;
  lostAt: number | null;
}
/** What has become of a file's lines and readings so far. */
export interface ImportTallies {
  lines: number;
  accepted: number;
  duplicates: number;
  repeated: number;
  not_measured: number;
  refused: number;
  skipped: number;
  conforming: number;
  nonconforming: number;
  uncertain: number;
  results_differ: number;
  limits_differ: number;
}

interface ImportLine {
  import_id: Id;
  line: number;
  last_line: number;
  state: "refused" | "repeated" | "not_measured" | "mended";
  text: string;
  parser_state: Json<unknown> | null;
  faults: Json<ImportFault[]>;
}
export interface ImportFault {
  column: string | null;
  field: string | null;
  reason: string;
}

interface ImportReading {
  batch_id: Id;
  reading_no: number;
  import_id: Id;
  line: number;
  column_name: string | null;
  lower_limit_mm: Numeric | null;
  upper_limit_mm: Numeric | null;
  said: Json<unknown>;
}

interface QifDocumentRow {
  qpid: string;
  import_id: Id;
  characteristics: Json<unknown>;
  received_at: Instant;
}

interface PieceSerial {
  batch_id: Id;
  serial: string;
  piece: number;
}

interface PartProposal {
  proposal_id: Generated<Id>;
  status: ColumnType<"open" | "accepted" | "declined", "open" | "accepted" | "declined" | undefined>;
  source: string | null;
  fingerprint: string;
  characteristics: string;
  proposed: Json<unknown>;
  part_qpid: string | null;
  part_id: Id | null;
  by_name: string | null;
  reason: string | null;
  created_at: Instant;
  decided_at: string | null;
}

interface Upkeep {
  one: Generated<boolean>;
  probed_at: Instant;
  backed_up_at: string | null;
}

export interface Database {
  machine: Machine;
  tool: Tool;
  register: Register;
  edge: Edge;
  gauge: Gauge;
  gauge_check: GaugeCheck;
  gauge_study: GaugeStudy;
  part: Part;
  feature: Feature;
  feature_cut: FeatureCut;
  feature_operation_limits: FeatureOperationLimits;
  batch: Batch;
  edge_in_batch: EdgeInBatch;
  register_entry: RegisterEntry;
  interruption: Interruption;
  reading: Reading;
  reading_points: ReadingPoints;
  correction: Correction;
  block_state: BlockState;
  block_checkpoint: BlockCheckpoint;
  piece_decision: PieceDecision;
  first_article: FirstArticle;
  idempotency_key: IdempotencyKey;
  log_layout: LogLayout;
  reading_import: ReadingImport;
  import_line: ImportLine;
  import_reading: ImportReading;
  piece_serial: PieceSerial;
  qif_document: QifDocumentRow;
  tool_proposal: ToolProposal;
  tool_asset: ToolAsset;
  part_proposal: PartProposal;
  upkeep: Upkeep;
}
