-- One feature may be measured at several places, such as both ends of a bore or two angles across it: each has its own
-- reading and verdict. A pass repeated at the same register values (spring pass) takes off what the cutter had sprung.

alter table feature add column places text[], -- in the order of the drawing; null: one reading speaks for the feature
  add constraint feature_places_two_or_more check (cardinality(places) >= 2);

alter table reading add column place text,
  add column spring_pass boolean not null default false;
alter table reading alter column spring_pass drop default,
  add constraint reading_spring_pass_is_a_later_cut check (not spring_pass or cut > 1);
