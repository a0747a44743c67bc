-- Limits of a feature in an operation before its last one: before plating, before grinding. The drawing's stay the feature's.

create table feature_operation_limits (
  feature_id bigint not null references feature,
  operation text not null,
  position integer not null, -- among the feature's, as they came
  nominal text, -- null: the feature's own
  nominal_mm numeric(18, 9),
  lower_limit_mm numeric(18, 9),
  upper_limit_mm numeric(18, 9),
  target_mm numeric(18, 9) not null,
  limits_from text not null constraint feature_operation_limits_from_known
    check (limits_from in ('deviations', 'limits', 'fit', 'general_tolerance', 'plating')),
  fit text,
  general_tolerance text
    constraint feature_operation_limits_general_tolerance_known check (general_tolerance in ('f', 'm', 'c', 'v')),
  plating_thickness_mm numeric(18, 9),
  plating_plus_minus_mm numeric(18, 9),
  plating_share double precision, -- of the thickness that adds to the size, per surface
  plating_surfaces integer,
  plating_thread_angle_deg double precision,
  growth_mm numeric(18, 9), -- of the size, by the plating; below 0 for an internal feature
  reason text,
  primary key (feature_id, operation),
  constraint feature_operation_limits_given check (lower_limit_mm is not null or upper_limit_mm is not null),
  constraint feature_operation_limits_ordered check (lower_limit_mm < upper_limit_mm),
  constraint feature_operation_limits_target_inside check (target_mm > lower_limit_mm and target_mm < upper_limit_mm),
  constraint feature_operation_limits_nominal_whole check ((nominal is null) = (nominal_mm is null)),
  constraint feature_operation_limits_plating_whole check (
    (limits_from = 'plating') = (num_nonnulls(plating_thickness_mm, plating_plus_minus_mm, plating_share, growth_mm) = 4)
    and num_nonnulls(plating_thickness_mm, plating_plus_minus_mm, plating_share, growth_mm) in (0, 4)
    and num_nonnulls(plating_surfaces, plating_thread_angle_deg) = (limits_from = 'plating')::int)
);
