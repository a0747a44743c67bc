-- How long a reading with a gauge takes, as somebody has said: what a batch will cost in measuring can be worked out then.

alter table gauge add column minutes_per_reading double precision
  constraint gauge_minutes_per_reading_positive check (minutes_per_reading > 0);
