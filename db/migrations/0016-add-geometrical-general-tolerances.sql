-- General tolerances for form and place (ISO 2768-2) beside those for sizes and angles: "mK" on a part, the class that counts
-- with each feature.

alter table part
  drop constraint part_general_tolerance_known,
  add constraint part_general_tolerance_known check (general_tolerance ~ '^([fmcv][HKL]?|[HKL])$');

alter table feature
  drop constraint feature_general_tolerance_known,
  add column toleranced_length_mm numeric(18, 9)
    constraint feature_toleranced_length_positive check (toleranced_length_mm > 0),
  add constraint feature_general_tolerance_known
    check (general_tolerance in ('f', 'm', 'c', 'v') and kind <> 'form' or general_tolerance in ('H', 'K', 'L') and kind = 'form');
