-- How the limits of a feature came about. Of features from before only the limits themselves are known.
alter table part
  add column general_tolerance text
    constraint part_general_tolerance_known check (general_tolerance in ('f', 'm', 'c', 'v')),
  add column title_block jsonb, -- [{ "places": 2, "plus_minus_mm": "0.100000000" }], in the order it was given
  add constraint part_has_one_default check (general_tolerance is null or title_block is null);

alter table feature
  add column limits_from text not null default 'limits'
    constraint feature_limits_from_known
      check (limits_from in ('deviations', 'limits', 'fit', 'general_tolerance', 'title_block')),
  add column fit text,
  add column general_tolerance text
    constraint feature_general_tolerance_known check (general_tolerance in ('f', 'm', 'c', 'v')),
  add column broken_edge boolean not null default false,
  add constraint feature_fit_where_limits_from_it check ((limits_from = 'fit') = (fit is not null)),
  add constraint feature_general_tolerance_where_limits_from_it
    check ((limits_from = 'general_tolerance') = (general_tolerance is not null));
alter table feature alter column limits_from drop default;
