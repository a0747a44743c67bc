-- A gauge whose deviation from the reference gauge is known proves nothing, but ends a doubt that such a gauge raised.

create index reading_vouching on reading (batch_id, feature_id, piece)
  where gauge_deviation_mm is not null and verdict = 'conforming' and cut = 1 and voided_at is null;

-- As nearest_witness, by such a gauge.
create function nearest_good_check(of_batch bigint, of_feature bigint, at_place text, in_seat text, beside integer,
  is_before boolean, sure boolean) returns integer
language plpgsql stable
set enable_bitmapscan = off set enable_seqscan = off set enable_sort = off set enable_hashjoin = off set enable_mergejoin = off
as $function$
declare
  nearest integer;
begin
  if is_before then
    select reading.piece into nearest from reading
    where batch_id = of_batch and feature_id = of_feature
      and gauge_deviation_mm is not null and verdict = 'conforming' and cut = 1 and voided_at is null
      and reading.piece < beside
      and place is not distinct from at_place and seat is not distinct from in_seat and gauge_doubt_mm is null
      and (not sure or coalesce(piece_within, 1) = 1)
      and not exists (
        select from reading as other
        where other.batch_id = of_batch and other.feature_id = of_feature and other.piece = reading.piece
          and other.place is not distinct from at_place and other.cut = 1 and other.fails and other.voided_at is null)
    order by reading.piece desc limit 1;
  else
    select reading.piece into nearest from reading
    where batch_id = of_batch and feature_id = of_feature
      and gauge_deviation_mm is not null and verdict = 'conforming' and cut = 1 and voided_at is null
      and reading.piece > beside
      and reading.piece - coalesce(piece_within, 1) + 1 > beside
      and place is not distinct from at_place and seat is not distinct from in_seat and gauge_doubt_mm is null
      and (not sure or coalesce(piece_within, 1) = 1)
      and not exists (
        select from reading as other
        where other.batch_id = of_batch and other.feature_id = of_feature and other.piece = reading.piece
          and other.place is not distinct from at_place and other.cut = 1 and other.fails and other.voided_at is null)
    order by reading.piece limit 1;
  end if;
  return nearest;
end $function$;
