-- The nearest piece of its kind before or after one, found by walking along an index. What the planner expects of one
-- batch's readings among many is often far off, and then it would rather collect and sort all of them: it is told not to.

-- A witness: a piece as it left the machine, proved good and not gainsaid on itself; it speaks for its place and seat only.
-- `sure`: a piece that is only known to be one of several does not count.
create function nearest_witness(of_batch bigint, of_feature bigint, at_place text, in_seat text, beside integer,
  is_before boolean, sure boolean) returns integer
language plpgsql stable
set enable_bitmapscan = off set enable_seqscan = off set enable_sort = off set enable_hashjoin = off set enable_mergejoin = off
as $function$
declare
  nearest integer;
begin
  if is_before then
    select reading.piece into nearest from reading
    where batch_id = of_batch and feature_id = of_feature and proves and cut = 1 and voided_at is null
      and reading.piece < beside
      and place is not distinct from at_place and seat is not distinct from in_seat and gauge_doubt_mm is null
      and (not sure or coalesce(piece_within, 1) = 1)
      and not exists (
        select from reading as other
        where other.batch_id = of_batch and other.feature_id = of_feature and other.piece = reading.piece
          and other.place is not distinct from at_place and other.cut = 1 and other.fails and other.voided_at is null)
      and not exists (
        select from piece_decision as decided
        where decided.batch_id = of_batch and decided.decision = 'rework' and decided.voided_at is null
          and reading.piece >= decided.from_piece and reading.piece <= decided.to_piece
          and coalesce(reading.measured_at, reading.received_at) >= decided.decided_at)
    order by reading.piece desc limit 1;
  else
    select reading.piece into nearest from reading
    where batch_id = of_batch and feature_id = of_feature and proves and cut = 1 and voided_at is null
      and reading.piece > beside
      and reading.piece - coalesce(piece_within, 1) + 1 > beside
      and place is not distinct from at_place and seat is not distinct from in_seat and gauge_doubt_mm is null
      and (not sure or coalesce(piece_within, 1) = 1)
      and not exists (
        select from reading as other
        where other.batch_id = of_batch and other.feature_id = of_feature and other.piece = reading.piece
          and other.place is not distinct from at_place and other.cut = 1 and other.fails and other.voided_at is null)
      and not exists (
        select from piece_decision as decided
        where decided.batch_id = of_batch and decided.decision = 'rework' and decided.voided_at is null
          and reading.piece >= decided.from_piece and reading.piece <= decided.to_piece
          and coalesce(reading.measured_at, reading.received_at) >= decided.decided_at)
    order by reading.piece limit 1;
  end if;
  return nearest;
end $function$;

-- The last piece before one of which a feature was measured, by whatever gauge.
create function last_measured_before(of_batch bigint, of_feature bigint, before_piece integer) returns integer
language plpgsql stable
set enable_bitmapscan = off set enable_seqscan = off set enable_sort = off
as $function$
declare
  nearest integer;
begin
  select piece into nearest from reading
  where batch_id = of_batch and feature_id = of_feature and piece < before_piece and state is null
    and voided_at is null
  order by piece desc limit 1;
  return nearest;
end $function$;
