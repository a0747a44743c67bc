-- Studies of a gauge: readings as they came, what they came to, and who accepted it.

create table gauge_study (
  gauge_study_id bigint generated always as identity primary key,
  gauge_id bigint not null references gauge,
  kind text not null constraint gauge_study_kind_known check (kind in ('crossed', 'one_part', 'linearity')),
  unit text not null constraint gauge_study_unit_known check (unit in ('mm', 'µm', 'inch', 'deg')),
  tolerance_mm numeric(18, 9) constraint gauge_study_tolerance_positive check (tolerance_mm > 0),
  readings jsonb not null,
  options jsonb not null,
  result jsonb not null,
  repeatability_mm numeric(18, 9) not null constraint gauge_study_repeatability_not_negative check (repeatability_mm >= 0),
  note text,
  by_name text,
  created_at timestamptz(3) not null default now(),
  accepted_at timestamptz(3),
  accepted_by text,
  repeatability_before_mm numeric(18, 9), -- the gauge's until then
  voided_at timestamptz(3),
  void_reason text,
  voided_by text,
  constraint gauge_study_accepted_by_somebody check ((accepted_at is null) = (accepted_by is null))
);
create index gauge_study_of_gauge on gauge_study (gauge_id, gauge_study_id desc);
