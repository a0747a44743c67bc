-- Where on the part a feature is, which way its size grows and how deep it is cut, so that a shift, a turn, warmth or a
-- bending cutter can be seen in what was measured; and what advice to find a cause says of it.

alter table feature
  add column at_x_mm numeric(18, 9),
  add column at_y_mm numeric(18, 9),
  add column at_z_mm numeric(18, 9),
  add column axis text constraint feature_axis_known check (axis in ('x', 'y', 'z', '-x', '-y', '-z')),
  add column depth_mm numeric(18, 9) constraint feature_depth_positive check (depth_mm > 0),
  add constraint feature_place_whole check (num_nonnulls(at_x_mm, at_y_mm, at_z_mm) in (0, 3));

alter table correction add column causes jsonb; -- of find_cause, most believable first; null: of any other kind
