-- What a gauge was known to read beside the reference gauge when a reading by it was judged: the size judged is the size
-- kept less this, and stays so whatever is learned later.

alter table reading add column gauge_deviation_mm numeric(18, 9);
alter table reading add column gauge_deviation_uncertainty_mm numeric(18, 9);
alter table reading add constraint reading_gauge_deviation_known
  check ((gauge_deviation_mm is null) = (gauge_deviation_uncertainty_mm is null));
