-- Guarded rejection and the zones of ISO 14253-1, the guard band as a multiple of U, both for a feature that differs from
-- its part; and with each reading whether its probability stands on what the process was known to do.
alter table part drop constraint part_decision_rule_known;
alter table part add constraint part_decision_rule_known
  check (decision_rule in ('simple', 'guarded_acceptance', 'guarded_rejection', 'iso_14253'));
alter table part add column guard_band_factor double precision not null default 1
  constraint part_guard_band_factor_positive check (guard_band_factor > 0);

alter table feature add column decision_rule text
  constraint feature_decision_rule_known
  check (decision_rule in ('simple', 'guarded_acceptance', 'guarded_rejection', 'iso_14253'));
alter table feature add column guard_band_factor double precision
  constraint feature_guard_band_factor_positive check (guard_band_factor > 0);

alter table reading add column prior text not null default 'flat'
  constraint reading_prior_known check (prior in ('flat', 'process'));
alter table reading add column gauge_advice text;
