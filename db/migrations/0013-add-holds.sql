-- What a reading proves by itself, whatever came before or after it, and what was decided about pieces.

alter table reading
  -- nonconforming by its own rule and uncertainty, also where a surprise leaves its verdict open
  add column fails boolean not null default false,
  -- conforming, by a gauge that may prove a size, fine enough and in calibration
  add column proves boolean not null default false;

with judged as (
  select reading.batch_id, reading.reading_no, reading.value_mm as size, limits.low, limits.high, bounds.inward, bounds.outward,
    reading.gauge_reference and reading.gauge_fit and not 'gauge_overdue' = any(reading.flags) as able
  from reading join feature using (feature_id) join part on part.part_id = feature.part_id
  join batch on batch.batch_id = reading.batch_id
  left join feature_operation_limits as early
    on early.feature_id = feature.feature_id and early.operation = batch.operation
  cross join lateral (
    select case when early.feature_id is null then feature.lower_limit_mm else early.lower_limit_mm end as low,
      case when early.feature_id is null then feature.upper_limit_mm else early.upper_limit_mm end as high
  ) as limits
  cross join lateral (
    select coalesce(feature.decision_rule, part.decision_rule) as rule,
      round(reading.expanded_uncertainty_mm * coalesce(feature.guard_band_factor, part.guard_band_factor)::numeric, 9) as g
  ) as decided
  cross join lateral (
    -- null: the rule needs an uncertainty, and none is known
    select case when rule in ('guarded_acceptance', 'iso_14253') then g else 0 end as inward,
      case when rule in ('guarded_rejection', 'iso_14253') then g else 0 end as outward
  ) as bounds
)
update reading
set fails = coalesce(size < low - outward or size > high + outward, false),
  proves = coalesce(able and size >= coalesce(low + inward, size) and size <= coalesce(high - inward, size)
    and inward is not null, false)
from judged
where reading.batch_id = judged.batch_id and reading.reading_no = judged.reading_no;

create index reading_failing on reading (batch_id, feature_id, piece) where fails and voided_at is null;
create index reading_proving on reading (batch_id, feature_id, piece) where proves and cut = 1 and voided_at is null;
create index reading_cut_again on reading (batch_id, feature_id, piece) where cut > 1 and voided_at is null;

-- Append-only: a later decision about a piece takes the place of an earlier one, a voided one counts no more.
create table piece_decision (
  decision_id bigint generated always as identity primary key,
  batch_id bigint not null references batch,
  from_piece integer not null constraint piece_decision_piece_positive check (from_piece > 0),
  to_piece integer not null,
  decision text not null constraint piece_decision_known
    check (decision in ('rework', 'scrap', 'use_as_is', 'repair', 'return')),
  authority text,
  nonconformance text,
  note text,
  -- rework: what has to be measured again before the piece counts as good
  measure_again bigint[],
  -- readings of the batch with a higher number were not known yet
  known_readings integer not null,
  decided_at timestamptz(3) not null,
  by_name text,
  created_at timestamptz(3) not null default now(),
  voided_at timestamptz(3),
  void_reason text,
  voided_by text,
  constraint piece_decision_range_ordered check (from_piece <= to_piece),
  constraint piece_decision_needs_authority
    check (decision not in ('use_as_is', 'repair') or authority is not null),
  constraint piece_decision_measured_again check ((decision = 'rework') = (measure_again is not null))
);
create index piece_decision_batch on piece_decision (batch_id, decision_id);
