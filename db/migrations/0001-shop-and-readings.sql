-- Sizes are numeric(18,9) in mm: whole picometres. Names of constraints say what they promise, since an error shows them.

create table machine (
  machine_id bigint generated always as identity primary key,
  name text not null constraint machine_name_unique unique,
  kind text not null constraint machine_kind_known check (kind in ('mill', 'lathe')),
  unit text not null constraint machine_unit_known check (unit in ('mm', 'inch')),
  least_increment_mm numeric(18, 9) not null constraint machine_least_increment_positive check (least_increment_mm > 0),
  largest_change_mm numeric(18, 9) not null constraint machine_largest_change_positive check (largest_change_mm > 0),
  largest_change_towards_work_mm numeric(18, 9)
    constraint machine_largest_change_towards_work_positive check (largest_change_towards_work_mm > 0),
  line_template text,
  created_at timestamptz(3) not null default now()
);

create table tool (
  tool_id bigint generated always as identity primary key,
  machine_id bigint not null references machine,
  number integer not null,
  name text not null,
  kind text not null,
  nominal_diameter_mm numeric(18, 9),
  life_pieces integer constraint tool_life_positive check (life_pieces > 0),
  created_at timestamptz(3) not null default now(),
  constraint tool_number_unique unique (machine_id, number)
);

create table register (
  register_id bigint generated always as identity primary key,
  machine_id bigint not null references machine,
  tool_id bigint not null references tool,
  number integer not null,
  label text not null,
  controls text not null constraint register_controls_known check (controls in ('radial', 'axial', 'x', 'z')),
  holds text constraint register_holds_known check (holds in ('radius', 'diameter')),
  sign text not null constraint register_sign_known check (sign in ('normal', 'reversed')),
  start_value_mm numeric(18, 9) not null,
  largest_total_mm numeric(18, 9) constraint register_largest_total_positive check (largest_total_mm > 0),
  constraint register_number_unique unique (machine_id, number, controls),
  constraint register_label_unique unique (machine_id, label),
  constraint register_holds_where_needed check ((holds is not null) = (controls in ('radial', 'x')))
);
create index register_tool on register (tool_id);

create table edge (
  edge_id bigint generated always as identity primary key,
  tool_id bigint not null references tool,
  number integer not null,
  reason text not null
    constraint edge_reason_known check (reason in ('start', 'worn', 'broken', 'chipped', 'indexed', 'new_insert', 'other')),
  by_name text,
  created_at timestamptz(3) not null default now(),
  voided_at timestamptz(3),
  void_reason text,
  voided_by text,
  constraint edge_number_unique unique (tool_id, number)
);

create table gauge (
  gauge_id bigint generated always as identity primary key,
  name text not null constraint gauge_name_unique unique,
  kind text not null,
  unit text not null constraint gauge_unit_known check (unit in ('mm', 'inch')),
  resolution_mm numeric(18, 9) not null constraint gauge_resolution_positive check (resolution_mm > 0),
  repeatability_mm numeric(18, 9) constraint gauge_repeatability_not_negative check (repeatability_mm >= 0),
  expanded_uncertainty_mm numeric(18, 9) constraint gauge_uncertainty_not_negative check (expanded_uncertainty_mm >= 0),
  coverage_factor double precision not null constraint gauge_coverage_factor_positive check (coverage_factor > 0),
  calibration_due date,
  reference boolean not null,
  reads text not null constraint gauge_reads_known check (reads in ('size', 'deviation')),
  master_size_mm numeric(18, 9),
  sense text constraint gauge_sense_known check (sense in ('normal', 'reversed')),
  created_at timestamptz(3) not null default now(),
  constraint gauge_probe_is_no_reference check (not (kind = 'machine_probe' and reference)),
  constraint gauge_deviation_has_master check ((reads = 'deviation') = (master_size_mm is not null))
);

create table part (
  part_id bigint generated always as identity primary key,
  number text not null,
  revision text not null,
  name text,
  unit text not null constraint part_unit_known check (unit in ('mm', 'inch')),
  material text,
  decision_rule text not null constraint part_decision_rule_known check (decision_rule in ('simple', 'guarded_acceptance')),
  created_at timestamptz(3) not null default now(),
  constraint part_number_revision_unique unique (number, revision)
);

create table feature (
  feature_id bigint generated always as identity primary key,
  part_id bigint not null references part,
  position integer not null,
  characteristic text not null,
  name text,
  kind text not null constraint feature_kind_known check (kind in ('external', 'internal', 'depth', 'height', 'length')),
  operation text,
  nominal text not null,
  nominal_mm numeric(18, 9) not null,
  lower_limit_mm numeric(18, 9),
  upper_limit_mm numeric(18, 9),
  target_mm numeric(18, 9) not null,
  importance text not null constraint feature_importance_known check (importance in ('ordinary', 'key', 'critical')),
  gauge_id bigint references gauge,
  pattern_name text,
  pattern_order integer,
  pattern_of integer,
  constraint feature_characteristic_unique unique (part_id, characteristic),
  constraint feature_has_a_limit check (lower_limit_mm is not null or upper_limit_mm is not null),
  constraint feature_limits_ordered check (lower_limit_mm < upper_limit_mm),
  constraint feature_target_inside check (target_mm > lower_limit_mm and target_mm < upper_limit_mm)
);

create table feature_cut (
  feature_id bigint not null references feature,
  position integer not null,
  tool_id bigint not null references tool,
  register_id bigint references register,
  walls integer constraint feature_cut_walls_known check (walls in (1, 2)),
  plus_makes text constraint feature_cut_plus_makes_known check (plus_makes in ('bigger', 'smaller')),
  effect double precision constraint feature_cut_effect_not_zero check (effect <> 0),
  primary key (feature_id, position),
  constraint feature_cut_effect_with_register check ((register_id is null) = (effect is null))
);
create index feature_cut_register on feature_cut (register_id);
create index feature_cut_tool on feature_cut (tool_id);

-- One batch is the unit of agreement: whoever changes anything inside it raises `version`, and a writer whose version is
-- not the one it read writes nothing. Readings and corrections are numbered inside their batch under the same guard.
create table batch (
  batch_id bigint generated always as identity primary key,
  name text not null constraint batch_name_unique unique,
  part_id bigint not null references part,
  machine_id bigint not null references machine,
  operation text,
  quantity integer constraint batch_quantity_positive check (quantity > 0),
  version integer not null default 0,
  reading_count integer not null default 0,
  correction_count integer not null default 0,
  last_piece_cut integer not null default 0,
  counted_piece integer not null default 0, -- the highest that somebody counted; readings prove theirs by themselves
  start jsonb not null, -- what each tool and register brought into the batch; frozen, so that states can be recomputed
  created_at timestamptz(3) not null default now(),
  closed_at timestamptz(3),
  closed_by text
);
create index batch_open_on_machine on batch (machine_id) where closed_at is null;
create index batch_part on batch (part_id);

create table edge_in_batch (
  batch_id bigint not null references batch,
  edge_id bigint not null references edge,
  from_piece integer not null constraint edge_in_batch_piece_positive check (from_piece > 0),
  primary key (batch_id, edge_id)
);

create table register_entry (
  entry_id bigint generated always as identity primary key,
  register_id bigint not null references register,
  batch_id bigint not null references batch,
  from_piece integer not null constraint register_entry_piece_positive check (from_piece > 0),
  from_cut integer not null default 1 constraint register_entry_cut_positive check (from_cut > 0),
  value_mm numeric(18, 9) not null,
  origin text not null
    constraint register_entry_origin_known check (origin in ('person', 'correction', 'edge', 'found', 'log')),
  reason text,
  correction_no integer,
  edge_id bigint references edge,
  follows_entry_id bigint references register_entry, -- the same change as it counts in another open batch
  by_name text,
  created_at timestamptz(3) not null default now(),
  voided_at timestamptz(3),
  void_reason text,
  voided_by text
);
create index register_entry_batch on register_entry (batch_id, register_id);
create index register_entry_register on register_entry (register_id, entry_id);

create table interruption (
  interruption_id bigint generated always as identity primary key,
  batch_id bigint not null references batch,
  from_piece integer not null constraint interruption_piece_positive check (from_piece > 0),
  kind text not null constraint interruption_kind_known
    check (kind in ('stop', 'person_change', 'material_change', 'fixture_change', 'program_change', 'other')),
  note text,
  by_name text,
  created_at timestamptz(3) not null default now(),
  voided_at timestamptz(3),
  void_reason text,
  voided_by text
);
create index interruption_batch on interruption (batch_id);

-- No foreign keys: rows come from one place, which has looked up what they name, nothing is ever deleted, and three checks
-- for each row cost more than the row. Partitioned by range of batch, so that the identity of a reading stays enforceable
-- and old batches can be moved out.
create table reading (
  batch_id bigint not null,
  reading_no integer not null,
  feature_id bigint not null,
  piece integer not null constraint reading_piece_positive check (piece > 0),
  cut integer not null constraint reading_cut_positive check (cut > 0),
  repeat integer not null constraint reading_repeat_positive check (repeat > 0),
  value_mm numeric(18, 9) not null,
  value_given text not null,
  unit text not null constraint reading_unit_known check (unit in ('mm', 'µm', 'inch')),
  gauge_id bigint not null,
  gauge_variance double precision not null, -- u_g² in mm² on that day: a gauge may be studied again later
  gauge_fit boolean not null,
  expanded_uncertainty_mm numeric(18, 9),
  measured_at timestamptz(3),
  received_at timestamptz(3) not null default now(),
  taken_by text,
  serial text,
  source_id text,
  identity text, -- what makes a second sending of the same reading a duplicate
  piece_within integer,
  known_piece integer not null, -- last piece known to be cut when the reading came
  verdict text not null constraint reading_verdict_known check (verdict in ('conforming', 'nonconforming', 'uncertain')),
  disposition text not null
    constraint reading_disposition_known check (disposition in ('accept', 'rework', 'scrap', 'remeasure')),
  target_mm numeric(18, 9) not null,
  probability_conforming double precision not null,
  flags text[] not null,
  slip text,
  hold_from integer,
  hold_to integer,
  voided_at timestamptz(3),
  void_reason text,
  voided_by text,
  primary key (batch_id, reading_no)
) partition by range (batch_id);
create unique index reading_identity_unique on reading (batch_id, identity) where identity is not null;
create index reading_feature_piece on reading (batch_id, feature_id, piece);

create function ensure_reading_partition(id bigint) returns void language plpgsql as $$
declare
  width constant bigint := 1000;
  low constant bigint := id / width * width;
begin
  if to_regclass(format('reading_from_%s', low)) is null then
    perform pg_advisory_xact_lock(hashtext('reading partition'));
    execute format('create table if not exists reading_from_%s partition of reading for values from (%s) to (%s)',
      low, low, low + width);
  end if;
end $$;

create table correction (
  batch_id bigint not null references batch,
  correction_no integer not null,
  kind text not null
    constraint correction_kind_known check (kind in ('change', 'measure_again', 'change_tool', 'find_cause')),
  status text not null
    constraint correction_status_known check (status in ('proposed', 'applied', 'declined', 'superseded', 'settled')),
  subject text not null, -- what it is about: one open piece of advice per subject
  tool_id bigint references tool,
  register_id bigint references register,
  piece integer not null,
  value_now_mm numeric(18, 9),
  change_mm numeric(18, 9) not null,
  value_after_mm numeric(18, 9),
  reading_nos integer[] not null,
  features jsonb not null,
  cause jsonb,
  why text not null,
  arithmetic text[] not null,
  cautions text[] not null,
  line text,
  proposed_at timestamptz(3) not null default now(),
  ended_at timestamptz(3),
  from_piece integer,
  from_cut integer,
  value_found_mm numeric(18, 9),
  value_set_mm numeric(18, 9),
  was_withdrawn boolean not null default false, -- applied although it had been superseded or declined
  found text,
  reason text,
  by_name text,
  primary key (batch_id, correction_no),
  constraint correction_change_has_register check (kind <> 'change' or register_id is not null)
);
create unique index correction_one_open_change_per_register on correction (register_id)
  where status = 'proposed' and kind = 'change';
create unique index correction_one_open_per_subject on correction (batch_id, subject) where status = 'proposed';
create index correction_tool on correction (tool_id, status);

-- Caches of what the journal says; may be emptied at any time.
create table block_state (
  batch_id bigint not null references batch,
  block_key bigint not null,
  state text not null,
  primary key (batch_id, block_key)
);
create table block_checkpoint (
  batch_id bigint not null references batch,
  block_key bigint not null,
  piece integer not null,
  state text not null,
  primary key (batch_id, block_key, piece)
);

create table idempotency_key (
  key text primary key,
  fingerprint text not null,
  status integer not null,
  body text not null,
  created_at timestamptz(3) not null default now()
);
create index idempotency_key_created on idempotency_key (created_at);

select ensure_reading_partition(0);
