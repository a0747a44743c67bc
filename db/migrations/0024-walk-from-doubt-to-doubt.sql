-- The good pieces that bound the doubts of a batch. Failing pieces between the same two good ones share them: the walk goes
-- from doubt to doubt, so that what it costs goes by their number and not by how many pieces failed.

create function doubt_bounds(of_batch bigint) returns table (feature_id bigint, piece integer)
language plpgsql stable
set plan_cache_mode = force_generic_plan
set enable_bitmapscan = off set enable_seqscan = off set enable_sort = off set enable_hashjoin = off set enable_mergejoin = off
as $function$
declare
  run record;
  bad integer;
  bad_earliest integer;
  behind integer;
  until integer;
  blurred integer;
begin
  for run in
    select failing.feature_id, failing.place, failing.unsure, seats.seat, walk.checks
    from (
      select reading.feature_id, reading.place, bool_or(gauge_deviation_mm is not null) as compared,
        bool_or(coalesce(piece_within, 1) > 1) as unsure
      from reading
      where batch_id = of_batch and fails and voided_at is null group by reading.feature_id, reading.place
    ) as failing
    cross join (
      select t.seat from batch
      cross join unnest(case when cardinality(seats) > 0 then seats else array[null::text] end) as t (seat)
      where batch_id = of_batch
    ) as seats
    cross join (values (false), (true)) as walk (checks)
    where failing.compared or not walk.checks
  loop
    behind := 0;
    until := 0;
    loop
      -- A piece that is only known to be one of several may reach across a good one.
      select reading.piece into bad from reading
      where batch_id = of_batch and reading.feature_id = run.feature_id and fails and voided_at is null
        and reading.piece > behind and (reading.piece >= until or coalesce(piece_within, 1) > 1)
        and place is not distinct from run.place and (gauge_deviation_mm is not null or not run.checks)
      order by reading.piece limit 1;
      exit when bad is null;
      bad_earliest := bad;
      if run.unsure then
        select min(reading.piece - coalesce(piece_within, 1) + 1) into bad_earliest from reading
        where batch_id = of_batch and reading.feature_id = run.feature_id and reading.piece = bad and fails
          and voided_at is null and place is not distinct from run.place;
      end if;
      behind := bad;
      feature_id := run.feature_id;
      if piece is null or piece <> until or until <> bad_earliest - 1 then -- else the good piece after the one before is the one before this
        piece := case when run.checks then nearest_good_check(of_batch, run.feature_id, run.place, run.seat, bad_earliest, true, false)
          else nearest_witness(of_batch, run.feature_id, run.place, run.seat, bad_earliest, true, false) end;
        if piece is not null then return next; end if;
      end if;
      piece := case when run.checks then nearest_good_check(of_batch, run.feature_id, run.place, run.seat, bad, false, false)
        else nearest_witness(of_batch, run.feature_id, run.place, run.seat, bad, false, false) end;
      if piece is not null then return next; end if;
      if bad_earliest = bad and piece = bad + 1 then
        until := piece;
      elsif bad_earliest = bad then
        select coalesce(min(reading.piece - coalesce(piece_within, 1) + 1), 2147483647) into until from reading
        where batch_id = of_batch and reading.feature_id = run.feature_id and reading.piece = doubt_bounds.piece
          and voided_at is null and place is not distinct from run.place;
        -- A good piece that may be one of several is not after this one, but may be before the next.
        if run.checks then
          select reading.piece into blurred from reading
          where batch_id = of_batch and reading.feature_id = run.feature_id
            and gauge_deviation_mm is not null and verdict = 'conforming' and cut = 1 and voided_at is null
            and reading.piece > bad and reading.piece < until and coalesce(piece_within, 1) > 1
            and place is not distinct from run.place
          order by reading.piece limit 1;
        else
          select reading.piece into blurred from reading
          where batch_id = of_batch and reading.feature_id = run.feature_id and proves and cut = 1 and voided_at is null
            and reading.piece > bad and reading.piece < until and coalesce(piece_within, 1) > 1
            and place is not distinct from run.place
          order by reading.piece limit 1;
        end if;
        until := least(until, blurred);
      end if;
    end loop;
  end loop;
end $function$;

-- What a register held is asked for batch by batch of its machine.
create index batch_machine on batch (machine_id, batch_id);
create index register_entry_value on register_entry (register_id, value_mm, batch_id) where voided_at is null;
create index batch_began_with on batch using gin (jsonb_path_query_array(start, '$.registers.*.value_mm') jsonb_path_ops);
