-- Positions, angles, form, roughness, counts, and what passes or fails. Columns that end in _mm hold lengths in mm; of an angle
-- they hold arcseconds and of a count the number itself, with the same nine decimals, so that no column has to be there twice.
-- Which it is follows from the kind of the feature. 0 stands for the nominal of what has none, as the ideal it is.

alter table feature
  drop constraint feature_kind_known,
  drop constraint feature_has_a_limit,
  drop constraint feature_limits_ordered,
  drop constraint feature_target_inside,
  add column geometric_characteristic text, -- of a form, by its name in ISO 1101
  add column roughness_parameter text,
  add column gauged text constraint feature_gauged_known
    check (gauged in ('bore', 'shaft', 'internal_thread', 'external_thread')),
  add column thread_standard text
    constraint feature_thread_standard_known check (thread_standard in ('iso_metric', 'unified')),
  add column material_condition text
    constraint feature_material_condition_known check (material_condition in ('maximum', 'least')),
  -- The feature whose size earns the bonus: its characteristic where it is one of the part's, its kind and limits of size.
  add column size_characteristic text,
  add column size_kind text constraint feature_size_kind_known check (size_kind in ('internal', 'external')),
  add column size_lower_limit_mm numeric(18, 9),
  add column size_upper_limit_mm numeric(18, 9),
  add column shorter_leg_mm numeric(18, 9), -- of an angle with a general tolerance, in mm
  add column rework text constraint feature_rework_known check (rework in ('above', 'below', 'either', 'neither'));
alter table feature
  add constraint feature_kind_known check (kind in ('external', 'internal', 'depth', 'height', 'length',
    'position', 'angle', 'form', 'roughness', 'count', 'go_no_go', 'visual')),
  add constraint feature_has_a_limit check (
    (kind in ('go_no_go', 'visual')) = (lower_limit_mm is null and upper_limit_mm is null)),
  -- Eight of something may be asked for exactly.
  add constraint feature_limits_ordered
    check (lower_limit_mm < upper_limit_mm or (kind = 'count' and lower_limit_mm = upper_limit_mm)),
  -- 0 is the ideal, and may be all that is allowed, as with a position tolerance of 0 at maximum material.
  add constraint feature_target_inside check ((target_mm > lower_limit_mm and target_mm < upper_limit_mm)
    or (kind in ('position', 'form', 'roughness', 'count')
      and target_mm >= coalesce(lower_limit_mm, target_mm) and target_mm <= coalesce(upper_limit_mm, target_mm))),
  add constraint feature_one_sided check (kind not in ('position', 'form') or lower_limit_mm is null),
  add constraint feature_geometric_where_form check ((kind = 'form') = (geometric_characteristic is not null)),
  add constraint feature_parameter_where_roughness check ((kind = 'roughness') = (roughness_parameter is not null)),
  add constraint feature_gauged_where_go_no_go check ((kind = 'go_no_go') = (gauged is not null)),
  add constraint feature_thread_standard_of_thread
    check (thread_standard is null or gauged in ('internal_thread', 'external_thread')),
  add constraint feature_condition_of_position check (material_condition is null or kind = 'position'),
  add constraint feature_condition_has_size check (
    num_nonnulls(size_kind, size_lower_limit_mm, size_upper_limit_mm)
      = case when material_condition is null then 0 else 3 end),
  add constraint feature_size_limits_ordered check (size_lower_limit_mm < size_upper_limit_mm);

-- A register may be named of which only a step can be tried, or of which a change calls for a check.
alter table feature_cut
  drop constraint feature_cut_effect_with_register,
  add column step_mm numeric(18, 9) constraint feature_cut_step_positive check (step_mm > 0),
  add constraint feature_cut_effect_of_register check (effect is null or register_id is not null),
  add constraint feature_cut_step_has_effect check (step_mm is null or effect is not null);

-- A gauge for angles has degrees as its unit and arcseconds in its columns; one that passes or refuses has no resolution.
alter table gauge
  drop constraint gauge_unit_known,
  alter column resolution_mm drop not null;
alter table gauge
  add constraint gauge_unit_known check (unit in ('mm', 'inch', 'deg'));

alter table reading
  drop constraint reading_unit_known,
  alter column value_mm drop not null,
  alter column value_given drop not null,
  alter column unit drop not null,
  alter column gauge_id drop not null, -- what is looked at or counted needs none
  alter column probability_conforming drop not null, -- of an attribute nobody knows it
  add column dx_mm numeric(18, 9),
  add column dy_mm numeric(18, 9),
  add column dz_mm numeric(18, 9),
  add column size_mm numeric(18, 9), -- of the feature whose size earns the bonus, as it counted
  add column bonus_mm numeric(18, 9),
  add column result text
    constraint reading_result_known check (result in ('pass', 'fail', 'go_refuses', 'no_go_enters')),
  add column turns numeric(6, 3), -- that the NO-GO side of a thread gauge went in
  add column state text constraint reading_state_known check (state in ('not_measured', 'error', 'over_range')),
  add column advice text;
alter table reading
  add constraint reading_unit_known
    check (unit in ('mm', 'µm', 'nm', 'inch', 'µin', 'deg', 'arcmin', 'arcsec', 'rad', '1')),
  add constraint reading_is_one_thing check (num_nonnulls(value_mm, result, state) = 1),
  add constraint reading_value_has_unit check ((value_mm is null) = (unit is null)),
  add constraint reading_offsets_together check (num_nonnulls(dx_mm, dy_mm) in (0, 2) and (dz_mm is null or dx_mm is not null));

alter table gauge_check drop constraint gauge_check_unit_known;
alter table gauge_check
  add constraint gauge_check_unit_known check (unit in ('mm', 'µm', 'inch', 'deg', 'arcmin', 'arcsec'));
