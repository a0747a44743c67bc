-- Gauges read on a standard in the shop: what they are off by, and what was measured with them meanwhile.

create table gauge_check (
  gauge_check_id bigint generated always as identity primary key,
  gauge_id bigint not null references gauge,
  checked_at timestamptz(3) not null,
  unit text not null constraint gauge_check_unit_known check (unit in ('mm', 'µm', 'inch')),
  standard_mm numeric(18, 9),
  standard_uncertainty_mm numeric(18, 9) not null
    constraint gauge_check_standard_uncertainty_not_negative check (standard_uncertainty_mm >= 0), -- expanded, k = 2
  reading_given text,
  error_mm numeric(18, 9) not null, -- reading less standard; where only its largest amount is known, that
  direction_known boolean not null,
  allowed_mm numeric(18, 9) not null constraint gauge_check_allowed_positive check (allowed_mm > 0), -- on that day
  variance double precision not null, -- of the error found, mm²
  shift boolean not null, -- the error is taken off what the gauge reads from then on, until the next check
  note text,
  by_name text,
  created_at timestamptz(3) not null default now(),
  voided_at timestamptz(3),
  void_reason text,
  voided_by text,
  constraint gauge_check_reading_of_a_standard
    check (direction_known = (standard_mm is not null) and direction_known = (reading_given is not null)),
  constraint gauge_check_shift_needs_direction check (direction_known or not shift)
);
create unique index gauge_check_one_at_a_time on gauge_check (gauge_id, checked_at) where voided_at is null;

alter table reading add column gauge_error_mm numeric(18, 9), -- taken off what the gauge read; null: nothing was
  add column gauge_doubt_mm numeric(18, 9); -- by how much a check before or after it shows its gauge off; null: none does

-- "What did this gauge measure between two dates?"
create index reading_gauge_taken on reading (gauge_id, coalesce(measured_at, received_at), batch_id, reading_no);
