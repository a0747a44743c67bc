-- Points that a probe touched instead of a value: kept as they were sent, so that they can be evaluated again, beside what they
-- came to on that day.

create table reading_points (
  batch_id bigint not null,
  reading_no integer not null,
  points jsonb not null constraint reading_points_bounded check (jsonb_array_length(points) between 1 and 500),
  unit text not null constraint reading_points_unit_known check (unit in ('mm', 'µm', 'nm', 'inch', 'µin')),
  ball_diameter text, -- in that unit, as it was sent; null: points of the surface
  true_position jsonb, -- of a position: where its centre should be, as it was sent
  primary key (batch_id, reading_no)
);

alter table reading add column fit jsonb; -- lengths in whole picometres; null: it came as a value
