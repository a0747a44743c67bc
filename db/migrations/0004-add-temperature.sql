-- What part and gauge are made of, and what a reading was before it was reduced to 20 °C (ISO 1). Coefficients of linear
-- expansion and their standard uncertainties are in µm per metre and kelvin, temperatures in °C.

alter table part
  add column expansion_coefficient numeric(9, 6),
  add column expansion_uncertainty numeric(9, 6)
    constraint part_expansion_uncertainty_not_negative check (expansion_uncertainty >= 0),
  add constraint part_expansion_uncertainty_has_coefficient
    check (expansion_uncertainty is null or expansion_coefficient is not null);

alter table gauge
  add column material text,
  add column expansion_coefficient numeric(9, 6),
  add column expansion_uncertainty numeric(9, 6)
    constraint gauge_expansion_uncertainty_not_negative check (expansion_uncertainty >= 0),
  add constraint gauge_expansion_uncertainty_has_coefficient
    check (expansion_uncertainty is null or expansion_coefficient is not null);

-- All of them null where nobody said how warm the part was: then value_mm is the size as it was read.
alter table reading
  add column size_as_read_mm numeric(18, 9),
  add column temperature_c numeric(9, 6),
  add column gauge_temperature_c numeric(9, 6),
  add column temperature_correction_uncertainty_mm numeric(18, 9),
  add column expansion_coefficient numeric(9, 6), -- the one used that day: it may be corrected later
  add column gauge_expansion_coefficient numeric(9, 6), -- null also where the gauge was at 20 °C and nothing is known of it
  add constraint reading_temperature_whole check (num_nonnulls(size_as_read_mm, temperature_c, gauge_temperature_c,
    temperature_correction_uncertainty_mm, expansion_coefficient) in (0, 5)),
  add constraint reading_gauge_expansion_with_temperature
    check (gauge_expansion_coefficient is null or temperature_c is not null);
