-- Written by `npm run db:dump` from the migrations.

CREATE OR REPLACE FUNCTION public.doubt_bounds(of_batch bigint)
 RETURNS TABLE(feature_id bigint, piece integer)
 LANGUAGE plpgsql
 STABLE
 SET plan_cache_mode TO 'force_generic_plan'
 SET enable_bitmapscan TO 'off'
 SET enable_seqscan TO 'off'
 SET enable_sort TO 'off'
 SET enable_hashjoin TO 'off'
 SET enable_mergejoin TO 'off'
AS $function$
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

CREATE OR REPLACE FUNCTION public.ensure_reading_partition(id bigint)
 RETURNS void
 LANGUAGE plpgsql
AS $function$
declare
  width constant bigint := 1000;
  low constant bigint := id / width * width;
begin
  if to_regclass(format('reading_from_%s', low)) is null then
    perform pg_advisory_xact_lock(hashtext('reading partition'));
    execute format('create table if not exists reading_from_%s partition of reading for values from (%s) to (%s)',
      low, low, low + width);
  end if;
end $function$;

CREATE OR REPLACE FUNCTION public.last_measured_before(of_batch bigint, of_feature bigint, before_piece integer)
 RETURNS integer
 LANGUAGE plpgsql
 STABLE
 SET enable_bitmapscan TO 'off'
 SET enable_seqscan TO 'off'
 SET enable_sort TO 'off'
AS $function$
declare
  nearest integer;
begin
  select piece into nearest from reading
  where batch_id = of_batch and feature_id = of_feature and piece < before_piece and state is null
    and voided_at is null
  order by piece desc limit 1;
  return nearest;
end $function$;

CREATE OR REPLACE FUNCTION public.nearest_good_check(of_batch bigint, of_feature bigint, at_place text, in_seat text, beside integer, is_before boolean, sure boolean)
 RETURNS integer
 LANGUAGE plpgsql
 STABLE
 SET enable_bitmapscan TO 'off'
 SET enable_seqscan TO 'off'
 SET enable_sort TO 'off'
 SET enable_hashjoin TO 'off'
 SET enable_mergejoin TO 'off'
AS $function$
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

CREATE OR REPLACE FUNCTION public.nearest_witness(of_batch bigint, of_feature bigint, at_place text, in_seat text, beside integer, is_before boolean, sure boolean)
 RETURNS integer
 LANGUAGE plpgsql
 STABLE
 SET enable_bitmapscan TO 'off'
 SET enable_seqscan TO 'off'
 SET enable_sort TO 'off'
 SET enable_hashjoin TO 'off'
 SET enable_mergejoin TO 'off'
AS $function$
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

CREATE OR REPLACE FUNCTION public.refuse_change()
 RETURNS trigger
 LANGUAGE plpgsql
AS $function$
begin
  raise exception '% is only ever added to: % is refused', tg_table_name, lower(tg_op) using errcode = 'restrict_violation';
end
$function$;

create table access_key (
  key_id bigint not null generated always as identity,
  name text not null,
  role text not null,
  prefix text not null,
  secret_hash bytea not null,
  created_at timestamp(3) with time zone not null default now(),
  created_by text,
  last_used_at timestamp(3) with time zone,
  revoked_at timestamp(3) with time zone,
  revoked_by text,
  constraint access_key_pkey PRIMARY KEY (key_id),
  constraint access_key_hash_is_sha_256 CHECK ((length(secret_hash) = 32)),
  constraint access_key_name_unique UNIQUE (name),
  constraint access_key_prefix_unique UNIQUE (prefix),
  constraint access_key_revoked_by_after CHECK (((revoked_by IS NULL) OR (revoked_at IS NOT NULL))),
  constraint access_key_role_known CHECK ((role = ANY (ARRAY['uploader'::text, 'operator'::text, 'engineer'::text, 'admin'::text])))
);

create table audit (
  audit_id bigint not null generated always as identity,
  at timestamp(3) with time zone not null default now(),
  key_name text,
  by_name text,
  operation text not null,
  entities jsonb not null,
  request jsonb,
  request_id text,
  constraint audit_pkey PRIMARY KEY (audit_id)
);
CREATE INDEX audit_at ON public.audit USING btree (at, audit_id);
CREATE INDEX audit_entities ON public.audit USING gin (entities jsonb_path_ops);
CREATE INDEX audit_key ON public.audit USING btree (key_name, audit_id);
CREATE TRIGGER audit_append_only BEFORE DELETE OR UPDATE ON public.audit FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER audit_not_truncated BEFORE TRUNCATE ON public.audit FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

create table batch (
  batch_id bigint not null generated always as identity,
  name text not null,
  part_id bigint not null,
  machine_id bigint not null,
  operation text,
  quantity integer,
  version integer not null default 0,
  reading_count integer not null default 0,
  correction_count integer not null default 0,
  last_piece_cut integer not null default 0,
  counted_piece integer not null default 0,
  start jsonb not null,
  created_at timestamp(3) with time zone not null default now(),
  closed_at timestamp(3) with time zone,
  closed_by text,
  seats text[] not null default '{}'::text[],
  constraint batch_pkey PRIMARY KEY (batch_id),
  constraint batch_machine_id_fkey FOREIGN KEY (machine_id) REFERENCES machine(machine_id),
  constraint batch_name_unique UNIQUE (name),
  constraint batch_part_id_fkey FOREIGN KEY (part_id) REFERENCES part(part_id),
  constraint batch_quantity_positive CHECK ((quantity > 0))
);
CREATE INDEX batch_began_with ON public.batch USING gin (jsonb_path_query_array(start, '$."registers".*."value_mm"'::jsonpath) jsonb_path_ops);
CREATE INDEX batch_machine ON public.batch USING btree (machine_id, batch_id);
CREATE INDEX batch_machine_created ON public.batch USING btree (machine_id, created_at);
CREATE INDEX batch_open_on_machine ON public.batch USING btree (machine_id) WHERE (closed_at IS NULL);
CREATE INDEX batch_part ON public.batch USING btree (part_id);

create table block_checkpoint (
  batch_id bigint not null,
  block_key bigint not null,
  piece integer not null,
  state text not null,
  constraint block_checkpoint_pkey PRIMARY KEY (batch_id, block_key, piece),
  constraint block_checkpoint_batch_id_fkey FOREIGN KEY (batch_id) REFERENCES batch(batch_id)
);

create table block_state (
  batch_id bigint not null,
  block_key bigint not null,
  state text not null,
  constraint block_state_pkey PRIMARY KEY (batch_id, block_key),
  constraint block_state_batch_id_fkey FOREIGN KEY (batch_id) REFERENCES batch(batch_id)
);

create table correction (
  batch_id bigint not null,
  correction_no integer not null,
  kind text not null,
  status text not null,
  subject text not null,
  tool_id bigint,
  register_id bigint,
  piece integer not null,
  value_now_mm numeric(18,9),
  change_mm numeric(18,9) not null,
  value_after_mm numeric(18,9),
  reading_nos integer[] not null,
  features jsonb not null,
  cause jsonb,
  why text not null,
  arithmetic text[] not null,
  cautions text[] not null,
  line text,
  proposed_at timestamp(3) with time zone not null default now(),
  ended_at timestamp(3) with time zone,
  from_piece integer,
  from_cut integer,
  value_found_mm numeric(18,9),
  value_set_mm numeric(18,9),
  was_withdrawn boolean not null default false,
  found text,
  reason text,
  by_name text,
  gauge_id bigint,
  causes jsonb,
  constraint correction_pkey PRIMARY KEY (batch_id, correction_no),
  constraint correction_batch_id_fkey FOREIGN KEY (batch_id) REFERENCES batch(batch_id),
  constraint correction_change_has_register CHECK (((kind <> 'change'::text) OR (register_id IS NOT NULL))),
  constraint correction_gauge_id_fkey FOREIGN KEY (gauge_id) REFERENCES gauge(gauge_id),
  constraint correction_kind_known CHECK ((kind = ANY (ARRAY['change'::text, 'measure_again'::text, 'change_tool'::text, 'find_cause'::text, 'check_gauge'::text]))),
  constraint correction_register_id_fkey FOREIGN KEY (register_id) REFERENCES register(register_id),
  constraint correction_status_known CHECK ((status = ANY (ARRAY['proposed'::text, 'applied'::text, 'declined'::text, 'superseded'::text, 'settled'::text]))),
  constraint correction_tool_id_fkey FOREIGN KEY (tool_id) REFERENCES tool(tool_id)
);
CREATE UNIQUE INDEX correction_one_open_change_per_register ON public.correction USING btree (register_id) WHERE ((status = 'proposed'::text) AND (kind = 'change'::text));
CREATE UNIQUE INDEX correction_one_open_per_subject ON public.correction USING btree (batch_id, subject) WHERE (status = 'proposed'::text);
CREATE INDEX correction_tool ON public.correction USING btree (tool_id, status);

create table edge (
  edge_id bigint not null generated always as identity,
  tool_id bigint not null,
  number integer not null,
  reason text not null,
  by_name text,
  created_at timestamp(3) with time zone not null default now(),
  voided_at timestamp(3) with time zone,
  void_reason text,
  voided_by text,
  constraint edge_pkey PRIMARY KEY (edge_id),
  constraint edge_number_unique UNIQUE (tool_id, number),
  constraint edge_reason_known CHECK ((reason = ANY (ARRAY['start'::text, 'worn'::text, 'broken'::text, 'chipped'::text, 'indexed'::text, 'new_insert'::text, 'other'::text]))),
  constraint edge_tool_id_fkey FOREIGN KEY (tool_id) REFERENCES tool(tool_id)
);

create table edge_in_batch (
  batch_id bigint not null,
  edge_id bigint not null,
  from_piece integer not null,
  constraint edge_in_batch_pkey PRIMARY KEY (batch_id, edge_id),
  constraint edge_in_batch_batch_id_fkey FOREIGN KEY (batch_id) REFERENCES batch(batch_id),
  constraint edge_in_batch_edge_id_fkey FOREIGN KEY (edge_id) REFERENCES edge(edge_id),
  constraint edge_in_batch_piece_positive CHECK ((from_piece > 0))
);

create table feature (
  feature_id bigint not null generated always as identity,
  part_id bigint not null,
  "position" integer not null,
  characteristic text not null,
  name text,
  kind text not null,
  operation text,
  nominal text not null,
  nominal_mm numeric(18,9) not null,
  lower_limit_mm numeric(18,9),
  upper_limit_mm numeric(18,9),
  target_mm numeric(18,9) not null,
  importance text not null,
  gauge_id bigint,
  pattern_name text,
  pattern_order integer,
  pattern_of integer,
  limits_from text not null,
  fit text,
  general_tolerance text,
  broken_edge boolean not null default false,
  decision_rule text,
  guard_band_factor double precision,
  reference_gauge_id bigint,
  places text[],
  at_x_mm numeric(18,9),
  at_y_mm numeric(18,9),
  at_z_mm numeric(18,9),
  axis text,
  depth_mm numeric(18,9),
  geometric_characteristic text,
  roughness_parameter text,
  gauged text,
  thread_standard text,
  material_condition text,
  size_characteristic text,
  size_kind text,
  size_lower_limit_mm numeric(18,9),
  size_upper_limit_mm numeric(18,9),
  shorter_leg_mm numeric(18,9),
  rework text,
  toleranced_length_mm numeric(18,9),
  drawing_zone text,
  constraint feature_pkey PRIMARY KEY (feature_id),
  constraint feature_axis_known CHECK ((axis = ANY (ARRAY['x'::text, 'y'::text, 'z'::text, '-x'::text, '-y'::text, '-z'::text]))),
  constraint feature_characteristic_unique UNIQUE (part_id, characteristic),
  constraint feature_condition_has_size CHECK ((num_nonnulls(size_kind, size_lower_limit_mm, size_upper_limit_mm) =
CASE
    WHEN (material_condition IS NULL) THEN 0
    ELSE 3
END)),
  constraint feature_condition_of_position CHECK (((material_condition IS NULL) OR (kind = 'position'::text))),
  constraint feature_decision_rule_known CHECK ((decision_rule = ANY (ARRAY['simple'::text, 'guarded_acceptance'::text, 'guarded_rejection'::text, 'iso_14253'::text]))),
  constraint feature_depth_positive CHECK ((depth_mm > (0)::numeric)),
  constraint feature_fit_where_limits_from_it CHECK (((limits_from = 'fit'::text) = (fit IS NOT NULL))),
  constraint feature_gauge_id_fkey FOREIGN KEY (gauge_id) REFERENCES gauge(gauge_id),
  constraint feature_gauged_known CHECK ((gauged = ANY (ARRAY['bore'::text, 'shaft'::text, 'internal_thread'::text, 'external_thread'::text]))),
  constraint feature_gauged_where_go_no_go CHECK (((kind = 'go_no_go'::text) = (gauged IS NOT NULL))),
  constraint feature_general_tolerance_known CHECK ((((general_tolerance = ANY (ARRAY['f'::text, 'm'::text, 'c'::text, 'v'::text])) AND (kind <> 'form'::text)) OR ((general_tolerance = ANY (ARRAY['H'::text, 'K'::text, 'L'::text])) AND (kind = 'form'::text)))),
  constraint feature_general_tolerance_where_limits_from_it CHECK (((limits_from = 'general_tolerance'::text) = (general_tolerance IS NOT NULL))),
  constraint feature_geometric_where_form CHECK (((kind = 'form'::text) = (geometric_characteristic IS NOT NULL))),
  constraint feature_guard_band_factor_positive CHECK ((guard_band_factor > (0)::double precision)),
  constraint feature_has_a_limit CHECK (((kind = ANY (ARRAY['go_no_go'::text, 'visual'::text])) = ((lower_limit_mm IS NULL) AND (upper_limit_mm IS NULL)))),
  constraint feature_importance_known CHECK ((importance = ANY (ARRAY['ordinary'::text, 'key'::text, 'critical'::text]))),
  constraint feature_kind_known CHECK ((kind = ANY (ARRAY['external'::text, 'internal'::text, 'depth'::text, 'height'::text, 'length'::text, 'position'::text, 'angle'::text, 'form'::text, 'roughness'::text, 'count'::text, 'go_no_go'::text, 'visual'::text]))),
  constraint feature_limits_from_known CHECK ((limits_from = ANY (ARRAY['deviations'::text, 'limits'::text, 'fit'::text, 'general_tolerance'::text, 'title_block'::text]))),
  constraint feature_limits_ordered CHECK (((lower_limit_mm < upper_limit_mm) OR ((kind = 'count'::text) AND (lower_limit_mm = upper_limit_mm)))),
  constraint feature_material_condition_known CHECK ((material_condition = ANY (ARRAY['maximum'::text, 'least'::text]))),
  constraint feature_one_sided CHECK (((kind <> ALL (ARRAY['position'::text, 'form'::text])) OR (lower_limit_mm IS NULL))),
  constraint feature_parameter_where_roughness CHECK (((kind = 'roughness'::text) = (roughness_parameter IS NOT NULL))),
  constraint feature_part_id_fkey FOREIGN KEY (part_id) REFERENCES part(part_id),
  constraint feature_place_whole CHECK ((num_nonnulls(at_x_mm, at_y_mm, at_z_mm) = ANY (ARRAY[0, 3]))),
  constraint feature_places_two_or_more CHECK ((cardinality(places) >= 2)),
  constraint feature_reference_gauge_id_fkey FOREIGN KEY (reference_gauge_id) REFERENCES gauge(gauge_id),
  constraint feature_rework_known CHECK ((rework = ANY (ARRAY['above'::text, 'below'::text, 'either'::text, 'neither'::text]))),
  constraint feature_size_kind_known CHECK ((size_kind = ANY (ARRAY['internal'::text, 'external'::text]))),
  constraint feature_size_limits_ordered CHECK ((size_lower_limit_mm < size_upper_limit_mm)),
  constraint feature_target_inside CHECK ((((target_mm > lower_limit_mm) AND (target_mm < upper_limit_mm)) OR ((kind = ANY (ARRAY['position'::text, 'form'::text, 'roughness'::text, 'count'::text])) AND (target_mm >= COALESCE(lower_limit_mm, target_mm)) AND (target_mm <= COALESCE(upper_limit_mm, target_mm))))),
  constraint feature_thread_standard_known CHECK ((thread_standard = ANY (ARRAY['iso_metric'::text, 'unified'::text]))),
  constraint feature_thread_standard_of_thread CHECK (((thread_standard IS NULL) OR (gauged = ANY (ARRAY['internal_thread'::text, 'external_thread'::text])))),
  constraint feature_toleranced_length_positive CHECK ((toleranced_length_mm > (0)::numeric))
);

create table feature_cut (
  feature_id bigint not null,
  "position" integer not null,
  tool_id bigint,
  register_id bigint,
  walls integer,
  plus_makes text,
  effect double precision,
  step_mm numeric(18,9),
  constraint feature_cut_pkey PRIMARY KEY (feature_id, "position"),
  constraint feature_cut_effect_not_zero CHECK ((effect <> (0)::double precision)),
  constraint feature_cut_effect_of_register CHECK (((effect IS NULL) OR (register_id IS NOT NULL))),
  constraint feature_cut_feature_id_fkey FOREIGN KEY (feature_id) REFERENCES feature(feature_id),
  constraint feature_cut_names_tool_or_register CHECK (((tool_id IS NOT NULL) OR (register_id IS NOT NULL))),
  constraint feature_cut_plus_makes_known CHECK ((plus_makes = ANY (ARRAY['bigger'::text, 'smaller'::text]))),
  constraint feature_cut_register_id_fkey FOREIGN KEY (register_id) REFERENCES register(register_id),
  constraint feature_cut_step_has_effect CHECK (((step_mm IS NULL) OR (effect IS NOT NULL))),
  constraint feature_cut_step_positive CHECK ((step_mm > (0)::numeric)),
  constraint feature_cut_tool_id_fkey FOREIGN KEY (tool_id) REFERENCES tool(tool_id),
  constraint feature_cut_walls_known CHECK ((walls = ANY (ARRAY[1, 2])))
);
CREATE INDEX feature_cut_register ON public.feature_cut USING btree (register_id);
CREATE INDEX feature_cut_tool ON public.feature_cut USING btree (tool_id);

create table feature_operation_limits (
  feature_id bigint not null,
  operation text not null,
  "position" integer not null,
  nominal text,
  nominal_mm numeric(18,9),
  lower_limit_mm numeric(18,9),
  upper_limit_mm numeric(18,9),
  target_mm numeric(18,9) not null,
  limits_from text not null,
  fit text,
  general_tolerance text,
  plating_thickness_mm numeric(18,9),
  plating_plus_minus_mm numeric(18,9),
  plating_share double precision,
  plating_surfaces integer,
  plating_thread_angle_deg double precision,
  growth_mm numeric(18,9),
  reason text,
  constraint feature_operation_limits_pkey PRIMARY KEY (feature_id, operation),
  constraint feature_operation_limits_feature_id_fkey FOREIGN KEY (feature_id) REFERENCES feature(feature_id),
  constraint feature_operation_limits_from_known CHECK ((limits_from = ANY (ARRAY['deviations'::text, 'limits'::text, 'fit'::text, 'general_tolerance'::text, 'plating'::text]))),
  constraint feature_operation_limits_general_tolerance_known CHECK ((general_tolerance = ANY (ARRAY['f'::text, 'm'::text, 'c'::text, 'v'::text]))),
  constraint feature_operation_limits_given CHECK (((lower_limit_mm IS NOT NULL) OR (upper_limit_mm IS NOT NULL))),
  constraint feature_operation_limits_nominal_whole CHECK (((nominal IS NULL) = (nominal_mm IS NULL))),
  constraint feature_operation_limits_ordered CHECK ((lower_limit_mm < upper_limit_mm)),
  constraint feature_operation_limits_plating_whole CHECK ((((limits_from = 'plating'::text) = (num_nonnulls(plating_thickness_mm, plating_plus_minus_mm, plating_share, growth_mm) = 4)) AND (num_nonnulls(plating_thickness_mm, plating_plus_minus_mm, plating_share, growth_mm) = ANY (ARRAY[0, 4])) AND (num_nonnulls(plating_surfaces, plating_thread_angle_deg) = ((limits_from = 'plating'::text))::integer))),
  constraint feature_operation_limits_target_inside CHECK (((target_mm > lower_limit_mm) AND (target_mm < upper_limit_mm)))
);

create table first_article (
  first_article_id bigint not null generated always as identity,
  part_id bigint not null,
  report_number text not null,
  extent text not null,
  reason text not null,
  note text,
  baseline_id bigint,
  pieces jsonb not null,
  characteristics text[],
  remarks jsonb not null,
  fields jsonb not null,
  by_name text,
  created_at timestamp(3) with time zone not null default now(),
  voided_at timestamp(3) with time zone,
  void_reason text,
  voided_by text,
  constraint first_article_pkey PRIMARY KEY (first_article_id),
  constraint first_article_baseline_id_fkey FOREIGN KEY (baseline_id) REFERENCES first_article(first_article_id),
  constraint first_article_extent_known CHECK ((extent = ANY (ARRAY['full'::text, 'partial'::text]))),
  constraint first_article_number_unique UNIQUE (report_number),
  constraint first_article_part_id_fkey FOREIGN KEY (part_id) REFERENCES part(part_id),
  constraint first_article_partial_has_scope CHECK (((extent = 'partial'::text) = (characteristics IS NOT NULL))),
  constraint first_article_reason_known CHECK ((reason = ANY (ARRAY['first_production'::text, 'design_change'::text, 'source_change'::text, 'process_change'::text, 'inspection_method_change'::text, 'place_change'::text, 'tooling_change'::text, 'material_change'::text, 'program_change'::text, 'natural_or_man_made_event'::text, 'corrective_action'::text, 'lapse_in_production'::text, 'other'::text])))
);
CREATE INDEX first_article_baseline ON public.first_article USING btree (baseline_id) WHERE (baseline_id IS NOT NULL);
CREATE INDEX first_article_part ON public.first_article USING btree (part_id, first_article_id);

create table gauge (
  gauge_id bigint not null generated always as identity,
  name text not null,
  kind text not null,
  unit text not null,
  resolution_mm numeric(18,9),
  repeatability_mm numeric(18,9),
  expanded_uncertainty_mm numeric(18,9),
  coverage_factor double precision not null,
  calibration_due date,
  reference boolean not null,
  reads text not null,
  master_size_mm numeric(18,9),
  sense text,
  created_at timestamp(3) with time zone not null default now(),
  material text,
  expansion_coefficient numeric(9,6),
  expansion_uncertainty numeric(9,6),
  minutes_per_reading double precision,
  constraint gauge_pkey PRIMARY KEY (gauge_id),
  constraint gauge_coverage_factor_positive CHECK ((coverage_factor > (0)::double precision)),
  constraint gauge_deviation_has_master CHECK (((reads = 'deviation'::text) = (master_size_mm IS NOT NULL))),
  constraint gauge_expansion_uncertainty_has_coefficient CHECK (((expansion_uncertainty IS NULL) OR (expansion_coefficient IS NOT NULL))),
  constraint gauge_expansion_uncertainty_not_negative CHECK ((expansion_uncertainty >= (0)::numeric)),
  constraint gauge_minutes_per_reading_positive CHECK ((minutes_per_reading > (0)::double precision)),
  constraint gauge_name_unique UNIQUE (name),
  constraint gauge_probe_is_no_reference CHECK ((NOT ((kind = 'machine_probe'::text) AND reference))),
  constraint gauge_reads_known CHECK ((reads = ANY (ARRAY['size'::text, 'deviation'::text]))),
  constraint gauge_repeatability_not_negative CHECK ((repeatability_mm >= (0)::numeric)),
  constraint gauge_resolution_positive CHECK ((resolution_mm > (0)::numeric)),
  constraint gauge_sense_known CHECK ((sense = ANY (ARRAY['normal'::text, 'reversed'::text]))),
  constraint gauge_uncertainty_not_negative CHECK ((expanded_uncertainty_mm >= (0)::numeric)),
  constraint gauge_unit_known CHECK ((unit = ANY (ARRAY['mm'::text, 'inch'::text, 'deg'::text])))
);

create table gauge_check (
  gauge_check_id bigint not null generated always as identity,
  gauge_id bigint not null,
  checked_at timestamp(3) with time zone not null,
  unit text not null,
  standard_mm numeric(18,9),
  standard_uncertainty_mm numeric(18,9) not null,
  reading_given text,
  error_mm numeric(18,9) not null,
  direction_known boolean not null,
  allowed_mm numeric(18,9) not null,
  variance double precision not null,
  shift boolean not null,
  note text,
  by_name text,
  created_at timestamp(3) with time zone not null default now(),
  voided_at timestamp(3) with time zone,
  void_reason text,
  voided_by text,
  constraint gauge_check_pkey PRIMARY KEY (gauge_check_id),
  constraint gauge_check_allowed_positive CHECK ((allowed_mm > (0)::numeric)),
  constraint gauge_check_gauge_id_fkey FOREIGN KEY (gauge_id) REFERENCES gauge(gauge_id),
  constraint gauge_check_reading_of_a_standard CHECK (((direction_known = (standard_mm IS NOT NULL)) AND (direction_known = (reading_given IS NOT NULL)))),
  constraint gauge_check_shift_needs_direction CHECK ((direction_known OR (NOT shift))),
  constraint gauge_check_standard_uncertainty_not_negative CHECK ((standard_uncertainty_mm >= (0)::numeric)),
  constraint gauge_check_unit_known CHECK ((unit = ANY (ARRAY['mm'::text, 'µm'::text, 'inch'::text, 'deg'::text, 'arcmin'::text, 'arcsec'::text])))
);
CREATE UNIQUE INDEX gauge_check_one_at_a_time ON public.gauge_check USING btree (gauge_id, checked_at) WHERE (voided_at IS NULL);

create table gauge_study (
  gauge_study_id bigint not null generated always as identity,
  gauge_id bigint not null,
  kind text not null,
  unit text not null,
  tolerance_mm numeric(18,9),
  readings jsonb not null,
  options jsonb not null,
  result jsonb not null,
  repeatability_mm numeric(18,9) not null,
  note text,
  by_name text,
  created_at timestamp(3) with time zone not null default now(),
  accepted_at timestamp(3) with time zone,
  accepted_by text,
  repeatability_before_mm numeric(18,9),
  voided_at timestamp(3) with time zone,
  void_reason text,
  voided_by text,
  constraint gauge_study_pkey PRIMARY KEY (gauge_study_id),
  constraint gauge_study_accepted_by_somebody CHECK (((accepted_at IS NULL) = (accepted_by IS NULL))),
  constraint gauge_study_gauge_id_fkey FOREIGN KEY (gauge_id) REFERENCES gauge(gauge_id),
  constraint gauge_study_kind_known CHECK ((kind = ANY (ARRAY['crossed'::text, 'one_part'::text, 'linearity'::text]))),
  constraint gauge_study_repeatability_not_negative CHECK ((repeatability_mm >= (0)::numeric)),
  constraint gauge_study_tolerance_positive CHECK ((tolerance_mm > (0)::numeric)),
  constraint gauge_study_unit_known CHECK ((unit = ANY (ARRAY['mm'::text, 'µm'::text, 'inch'::text, 'deg'::text])))
);
CREATE INDEX gauge_study_of_gauge ON public.gauge_study USING btree (gauge_id, gauge_study_id DESC);

create table idempotency_key (
  key text not null,
  fingerprint text not null,
  status integer not null,
  body text not null,
  created_at timestamp(3) with time zone not null default now(),
  constraint idempotency_key_pkey PRIMARY KEY (key)
);
CREATE INDEX idempotency_key_created ON public.idempotency_key USING btree (created_at);

create table import_line (
  import_id bigint not null,
  line integer not null,
  last_line integer not null,
  state text not null,
  text text not null,
  parser_state jsonb,
  faults jsonb not null,
  constraint import_line_pkey PRIMARY KEY (import_id, line),
  constraint import_line_import_id_fkey FOREIGN KEY (import_id) REFERENCES reading_import(import_id),
  constraint import_line_state_known CHECK ((state = ANY (ARRAY['refused'::text, 'repeated'::text, 'not_measured'::text, 'mended'::text])))
);
CREATE INDEX import_line_state ON public.import_line USING btree (import_id, state, line);
CREATE INDEX import_line_waits ON public.import_line USING btree (((((parser_state -> 'parser'::text) -> 'waits_for'::text) ->> 'qpid'::text))) WHERE ((state = 'refused'::text) AND ((parser_state -> 'parser'::text) ? 'waits_for'::text));

create table import_reading (
  batch_id bigint not null,
  reading_no integer not null,
  import_id bigint not null,
  line integer not null,
  column_name text,
  lower_limit_mm numeric(18,9),
  upper_limit_mm numeric(18,9),
  said jsonb not null,
  constraint import_reading_pkey PRIMARY KEY (batch_id, reading_no)
);
CREATE INDEX import_reading_line ON public.import_reading USING btree (import_id, line);

create table interruption (
  interruption_id bigint not null generated always as identity,
  batch_id bigint not null,
  from_piece integer not null,
  kind text not null,
  note text,
  by_name text,
  created_at timestamp(3) with time zone not null default now(),
  voided_at timestamp(3) with time zone,
  void_reason text,
  voided_by text,
  constraint interruption_pkey PRIMARY KEY (interruption_id),
  constraint interruption_batch_id_fkey FOREIGN KEY (batch_id) REFERENCES batch(batch_id),
  constraint interruption_kind_known CHECK ((kind = ANY (ARRAY['stop'::text, 'person_change'::text, 'material_change'::text, 'fixture_change'::text, 'program_change'::text, 'other'::text]))),
  constraint interruption_piece_positive CHECK ((from_piece > 0))
);
CREATE INDEX interruption_batch ON public.interruption USING btree (batch_id);

create table log_layout (
  layout_id bigint not null generated always as identity,
  name text not null,
  layout json not null,
  version integer not null default 1,
  created_at timestamp(3) with time zone not null default now(),
  changed_at timestamp(3) with time zone not null default now(),
  constraint log_layout_pkey PRIMARY KEY (layout_id),
  constraint log_layout_name_unique UNIQUE (name)
);

create table machine (
  machine_id bigint not null generated always as identity,
  name text not null,
  kind text not null,
  unit text not null,
  least_increment_mm numeric(18,9) not null,
  largest_change_mm numeric(18,9) not null,
  largest_change_towards_work_mm numeric(18,9),
  line_template text,
  created_at timestamp(3) with time zone not null default now(),
  constraint machine_pkey PRIMARY KEY (machine_id),
  constraint machine_kind_known CHECK ((kind = ANY (ARRAY['mill'::text, 'lathe'::text]))),
  constraint machine_largest_change_positive CHECK ((largest_change_mm > (0)::numeric)),
  constraint machine_largest_change_towards_work_positive CHECK ((largest_change_towards_work_mm > (0)::numeric)),
  constraint machine_least_increment_positive CHECK ((least_increment_mm > (0)::numeric)),
  constraint machine_name_unique UNIQUE (name),
  constraint machine_unit_known CHECK ((unit = ANY (ARRAY['mm'::text, 'inch'::text])))
);

create table part (
  part_id bigint not null generated always as identity,
  number text not null,
  revision text not null,
  name text,
  unit text not null,
  material text,
  decision_rule text not null,
  created_at timestamp(3) with time zone not null default now(),
  general_tolerance text,
  title_block jsonb,
  guard_band_factor double precision not null default 1,
  expansion_coefficient numeric(9,6),
  expansion_uncertainty numeric(9,6),
  risk double precision not null default 0.005,
  largest_interval integer not null default 10,
  constraint part_pkey PRIMARY KEY (part_id),
  constraint part_decision_rule_known CHECK ((decision_rule = ANY (ARRAY['simple'::text, 'guarded_acceptance'::text, 'guarded_rejection'::text, 'iso_14253'::text]))),
  constraint part_expansion_uncertainty_has_coefficient CHECK (((expansion_uncertainty IS NULL) OR (expansion_coefficient IS NOT NULL))),
  constraint part_expansion_uncertainty_not_negative CHECK ((expansion_uncertainty >= (0)::numeric)),
  constraint part_general_tolerance_known CHECK ((general_tolerance ~ '^([fmcv][HKL]?|[HKL])$'::text)),
  constraint part_guard_band_factor_positive CHECK ((guard_band_factor > (0)::double precision)),
  constraint part_has_one_default CHECK (((general_tolerance IS NULL) OR (title_block IS NULL))),
  constraint part_largest_interval_in_range CHECK (((largest_interval >= 1) AND (largest_interval <= 1000))),
  constraint part_number_revision_unique UNIQUE (number, revision),
  constraint part_risk_is_a_small_share CHECK (((risk > (0)::double precision) AND (risk < (0.5)::double precision))),
  constraint part_unit_known CHECK ((unit = ANY (ARRAY['mm'::text, 'inch'::text])))
);

create table part_proposal (
  proposal_id bigint not null generated always as identity,
  status text not null default 'open'::text,
  source text,
  fingerprint text not null,
  characteristics text not null,
  proposed json not null,
  part_qpid text,
  part_id bigint,
  by_name text,
  reason text,
  created_at timestamp(3) with time zone not null default now(),
  decided_at timestamp(3) with time zone,
  constraint part_proposal_pkey PRIMARY KEY (proposal_id),
  constraint part_proposal_decided CHECK (((status = 'open'::text) = (decided_at IS NULL))),
  constraint part_proposal_part_id_fkey FOREIGN KEY (part_id) REFERENCES part(part_id),
  constraint part_proposal_status_known CHECK ((status = ANY (ARRAY['open'::text, 'accepted'::text, 'declined'::text])))
);
CREATE INDEX part_proposal_characteristics ON public.part_proposal USING btree (characteristics, proposal_id) WHERE (status = 'accepted'::text);
CREATE INDEX part_proposal_qpid ON public.part_proposal USING btree (part_qpid, proposal_id) WHERE (status = 'accepted'::text);
CREATE UNIQUE INDEX part_proposal_waiting ON public.part_proposal USING btree (fingerprint) WHERE (status = 'open'::text);

create table piece_decision (
  decision_id bigint not null generated always as identity,
  batch_id bigint not null,
  from_piece integer not null,
  to_piece integer not null,
  decision text not null,
  authority text,
  nonconformance text,
  note text,
  measure_again bigint[],
  known_readings integer not null,
  decided_at timestamp(3) with time zone not null,
  by_name text,
  created_at timestamp(3) with time zone not null default now(),
  voided_at timestamp(3) with time zone,
  void_reason text,
  voided_by text,
  constraint piece_decision_pkey PRIMARY KEY (decision_id),
  constraint piece_decision_batch_id_fkey FOREIGN KEY (batch_id) REFERENCES batch(batch_id),
  constraint piece_decision_known CHECK ((decision = ANY (ARRAY['rework'::text, 'scrap'::text, 'use_as_is'::text, 'repair'::text, 'return'::text]))),
  constraint piece_decision_measured_again CHECK (((decision = 'rework'::text) = (measure_again IS NOT NULL))),
  constraint piece_decision_needs_authority CHECK (((decision <> ALL (ARRAY['use_as_is'::text, 'repair'::text])) OR (authority IS NOT NULL))),
  constraint piece_decision_piece_positive CHECK ((from_piece > 0)),
  constraint piece_decision_range_ordered CHECK ((from_piece <= to_piece))
);
CREATE INDEX piece_decision_batch ON public.piece_decision USING btree (batch_id, decision_id);

create table piece_serial (
  batch_id bigint not null,
  serial text not null,
  piece integer not null,
  constraint piece_serial_pkey PRIMARY KEY (batch_id, serial),
  constraint piece_serial_batch_id_fkey FOREIGN KEY (batch_id) REFERENCES batch(batch_id),
  constraint piece_serial_piece_positive CHECK ((piece > 0)),
  constraint piece_serial_piece_unique UNIQUE (batch_id, piece)
);

create table qif_document (
  qpid text not null,
  import_id bigint not null,
  characteristics jsonb not null,
  received_at timestamp(3) with time zone not null default now(),
  constraint qif_document_pkey PRIMARY KEY (qpid),
  constraint qif_document_import_id_fkey FOREIGN KEY (import_id) REFERENCES reading_import(import_id)
);

create table reading (
  batch_id bigint not null,
  reading_no integer not null,
  feature_id bigint not null,
  piece integer not null,
  cut integer not null,
  repeat integer not null,
  value_mm numeric(18,9),
  value_given text,
  unit text,
  gauge_id bigint,
  gauge_variance double precision not null,
  gauge_fit boolean not null,
  expanded_uncertainty_mm numeric(18,9),
  measured_at timestamp(3) with time zone,
  received_at timestamp(3) with time zone not null default now(),
  taken_by text,
  serial text,
  source_id text,
  identity text,
  piece_within integer,
  known_piece integer not null,
  verdict text not null,
  disposition text not null,
  target_mm numeric(18,9) not null,
  probability_conforming double precision,
  flags text[] not null,
  slip text,
  hold_from integer,
  hold_to integer,
  voided_at timestamp(3) with time zone,
  void_reason text,
  voided_by text,
  prior text not null default 'flat'::text,
  gauge_advice text,
  size_as_read_mm numeric(18,9),
  temperature_c numeric(9,6),
  gauge_temperature_c numeric(9,6),
  temperature_correction_uncertainty_mm numeric(18,9),
  expansion_coefficient numeric(9,6),
  gauge_expansion_coefficient numeric(9,6),
  seat text,
  seat_given boolean not null default false,
  gauge_reference boolean not null,
  place text,
  spring_pass boolean not null,
  gauge_error_mm numeric(18,9),
  gauge_doubt_mm numeric(18,9),
  rocked text[],
  fails boolean not null default false,
  proves boolean not null default false,
  dx_mm numeric(18,9),
  dy_mm numeric(18,9),
  dz_mm numeric(18,9),
  size_mm numeric(18,9),
  bonus_mm numeric(18,9),
  result text,
  turns numeric(6,3),
  state text,
  advice text,
  fit jsonb,
  gauge_deviation_mm numeric(18,9),
  gauge_deviation_uncertainty_mm numeric(18,9),
  key_name text,
  constraint reading_pkey PRIMARY KEY (batch_id, reading_no),
  constraint reading_cut_positive CHECK ((cut > 0)),
  constraint reading_disposition_known CHECK ((disposition = ANY (ARRAY['accept'::text, 'rework'::text, 'scrap'::text, 'remeasure'::text]))),
  constraint reading_gauge_deviation_known CHECK (((gauge_deviation_mm IS NULL) = (gauge_deviation_uncertainty_mm IS NULL))),
  constraint reading_gauge_expansion_with_temperature CHECK (((gauge_expansion_coefficient IS NULL) OR (temperature_c IS NOT NULL))),
  constraint reading_is_one_thing CHECK ((num_nonnulls(value_mm, result, state) = 1)),
  constraint reading_offsets_together CHECK (((num_nonnulls(dx_mm, dy_mm) = ANY (ARRAY[0, 2])) AND ((dz_mm IS NULL) OR (dx_mm IS NOT NULL)))),
  constraint reading_piece_positive CHECK ((piece > 0)),
  constraint reading_prior_known CHECK ((prior = ANY (ARRAY['flat'::text, 'process'::text]))),
  constraint reading_repeat_positive CHECK ((repeat > 0)),
  constraint reading_result_known CHECK ((result = ANY (ARRAY['pass'::text, 'fail'::text, 'go_refuses'::text, 'no_go_enters'::text]))),
  constraint reading_spring_pass_is_a_later_cut CHECK (((NOT spring_pass) OR (cut > 1))),
  constraint reading_state_known CHECK ((state = ANY (ARRAY['not_measured'::text, 'error'::text, 'over_range'::text]))),
  constraint reading_temperature_whole CHECK ((num_nonnulls(size_as_read_mm, temperature_c, gauge_temperature_c, temperature_correction_uncertainty_mm, expansion_coefficient) = ANY (ARRAY[0, 5]))),
  constraint reading_unit_known CHECK ((unit = ANY (ARRAY['mm'::text, 'µm'::text, 'nm'::text, 'inch'::text, 'µin'::text, 'deg'::text, 'arcmin'::text, 'arcsec'::text, 'rad'::text, '1'::text]))),
  constraint reading_value_has_unit CHECK (((value_mm IS NULL) = (unit IS NULL))),
  constraint reading_verdict_known CHECK ((verdict = ANY (ARRAY['conforming'::text, 'nonconforming'::text, 'uncertain'::text])))
) partition by range (batch_id);
CREATE INDEX reading_cut_again ON ONLY public.reading USING btree (batch_id, feature_id, piece) WHERE ((cut > 1) AND (voided_at IS NULL));
CREATE INDEX reading_failing ON ONLY public.reading USING btree (batch_id, feature_id, piece) WHERE (fails AND (voided_at IS NULL));
CREATE INDEX reading_feature_piece ON ONLY public.reading USING btree (batch_id, feature_id, piece);
CREATE INDEX reading_gauge_taken ON ONLY public.reading USING btree (gauge_id, COALESCE(measured_at, received_at), batch_id, reading_no);
CREATE UNIQUE INDEX reading_identity_unique ON ONLY public.reading USING btree (batch_id, identity) WHERE (identity IS NOT NULL);
CREATE INDEX reading_proving ON ONLY public.reading USING btree (batch_id, feature_id, piece) WHERE (proves AND (cut = 1) AND (voided_at IS NULL));
CREATE INDEX reading_serial ON ONLY public.reading USING btree (batch_id, serial) INCLUDE (piece) WHERE (serial IS NOT NULL);
CREATE INDEX reading_vouching ON ONLY public.reading USING btree (batch_id, feature_id, piece) WHERE ((gauge_deviation_mm IS NOT NULL) AND (verdict = 'conforming'::text) AND (cut = 1) AND (voided_at IS NULL));
CREATE TRIGGER reading_stays BEFORE UPDATE OF feature_id, piece, cut, repeat, value_mm, value_given, unit, gauge_id, measured_at, taken_by, key_name ON public.reading FOR EACH ROW EXECUTE FUNCTION refuse_change();

create table reading_from_0 partition of reading FOR VALUES FROM ('0') TO ('1000');

create table reading_import (
  import_id bigint not null generated always as identity,
  layout_id bigint not null,
  batch_id bigint,
  source text,
  settings jsonb not null,
  status text not null default 'open'::text,
  reason text,
  next_offset bigint not null default 0,
  reader_state jsonb,
  counters jsonb not null,
  tallies jsonb not null,
  batch_ids bigint[] not null default '{}'::bigint[],
  idempotency_key text,
  started_at timestamp(3) with time zone not null default now(),
  moved_at timestamp(3) with time zone not null default now(),
  ended_at timestamp(3) with time zone,
  constraint reading_import_pkey PRIMARY KEY (import_id),
  constraint reading_import_batch_id_fkey FOREIGN KEY (batch_id) REFERENCES batch(batch_id),
  constraint reading_import_key_unique UNIQUE (idempotency_key),
  constraint reading_import_layout_id_fkey FOREIGN KEY (layout_id) REFERENCES log_layout(layout_id),
  constraint reading_import_status_known CHECK ((status = ANY (ARRAY['open'::text, 'complete'::text, 'failed'::text])))
);
CREATE INDEX reading_import_source ON public.reading_import USING btree (source, import_id) WHERE (source IS NOT NULL);

create table reading_points (
  batch_id bigint not null,
  reading_no integer not null,
  points jsonb not null,
  unit text not null,
  ball_diameter text,
  true_position jsonb,
  constraint reading_points_pkey PRIMARY KEY (batch_id, reading_no),
  constraint reading_points_bounded CHECK (((jsonb_array_length(points) >= 1) AND (jsonb_array_length(points) <= 500))),
  constraint reading_points_unit_known CHECK ((unit = ANY (ARRAY['mm'::text, 'µm'::text, 'nm'::text, 'inch'::text, 'µin'::text])))
);

create table register (
  register_id bigint not null generated always as identity,
  machine_id bigint not null,
  tool_id bigint,
  number integer not null,
  label text not null,
  controls text not null,
  holds text,
  sign text not null,
  start_value_mm numeric(18,9) not null,
  largest_total_mm numeric(18,9),
  seat text,
  constraint register_pkey PRIMARY KEY (register_id),
  constraint register_controls_known CHECK ((controls = ANY (ARRAY['radial'::text, 'axial'::text, 'x'::text, 'z'::text, 'work_x'::text, 'work_y'::text, 'work_z'::text]))),
  constraint register_holds_known CHECK ((holds = ANY (ARRAY['radius'::text, 'diameter'::text]))),
  constraint register_holds_where_needed CHECK (((holds IS NOT NULL) = (controls = ANY (ARRAY['radial'::text, 'x'::text])))),
  constraint register_label_unique UNIQUE (machine_id, label),
  constraint register_largest_total_positive CHECK ((largest_total_mm > (0)::numeric)),
  constraint register_machine_id_fkey FOREIGN KEY (machine_id) REFERENCES machine(machine_id),
  constraint register_number_unique UNIQUE (machine_id, number, controls),
  constraint register_seat_only_of_work_offset CHECK (((seat IS NULL) OR (tool_id IS NULL))),
  constraint register_sign_known CHECK ((sign = ANY (ARRAY['normal'::text, 'reversed'::text]))),
  constraint register_tool_id_fkey FOREIGN KEY (tool_id) REFERENCES tool(tool_id),
  constraint register_without_tool_is_work_offset CHECK (((tool_id IS NULL) = (controls = ANY (ARRAY['work_x'::text, 'work_y'::text, 'work_z'::text]))))
);
CREATE INDEX register_tool ON public.register USING btree (tool_id);

create table register_entry (
  entry_id bigint not null generated always as identity,
  register_id bigint not null,
  batch_id bigint not null,
  from_piece integer not null,
  from_cut integer not null default 1,
  value_mm numeric(18,9) not null,
  origin text not null,
  reason text,
  correction_no integer,
  edge_id bigint,
  follows_entry_id bigint,
  by_name text,
  created_at timestamp(3) with time zone not null default now(),
  voided_at timestamp(3) with time zone,
  void_reason text,
  voided_by text,
  constraint register_entry_pkey PRIMARY KEY (entry_id),
  constraint register_entry_batch_id_fkey FOREIGN KEY (batch_id) REFERENCES batch(batch_id),
  constraint register_entry_cut_positive CHECK ((from_cut > 0)),
  constraint register_entry_edge_id_fkey FOREIGN KEY (edge_id) REFERENCES edge(edge_id),
  constraint register_entry_follows_entry_id_fkey FOREIGN KEY (follows_entry_id) REFERENCES register_entry(entry_id),
  constraint register_entry_origin_known CHECK ((origin = ANY (ARRAY['person'::text, 'correction'::text, 'edge'::text, 'found'::text, 'log'::text]))),
  constraint register_entry_piece_positive CHECK ((from_piece > 0)),
  constraint register_entry_register_id_fkey FOREIGN KEY (register_id) REFERENCES register(register_id)
);
CREATE INDEX register_entry_batch ON public.register_entry USING btree (batch_id, register_id);
CREATE INDEX register_entry_follows ON public.register_entry USING btree (follows_entry_id) WHERE (follows_entry_id IS NOT NULL);
CREATE INDEX register_entry_register ON public.register_entry USING btree (register_id, entry_id);
CREATE INDEX register_entry_value ON public.register_entry USING btree (register_id, value_mm, batch_id) WHERE (voided_at IS NULL);

create table tool (
  tool_id bigint not null generated always as identity,
  machine_id bigint not null,
  number integer not null,
  name text not null,
  kind text not null,
  nominal_diameter_mm numeric(18,9),
  life_pieces integer,
  created_at timestamp(3) with time zone not null default now(),
  constraint tool_pkey PRIMARY KEY (tool_id),
  constraint tool_life_positive CHECK ((life_pieces > 0)),
  constraint tool_machine_id_fkey FOREIGN KEY (machine_id) REFERENCES machine(machine_id),
  constraint tool_number_unique UNIQUE (machine_id, number)
);

create table tool_asset (
  machine_id bigint not null,
  asset_id text not null,
  tool_id bigint not null,
  serial text,
  accepted_at timestamp(3) with time zone not null default now(),
  constraint tool_asset_pkey PRIMARY KEY (machine_id, asset_id),
  constraint tool_asset_machine_id_fkey FOREIGN KEY (machine_id) REFERENCES machine(machine_id),
  constraint tool_asset_tool_id_fkey FOREIGN KEY (tool_id) REFERENCES tool(tool_id)
);
CREATE INDEX tool_asset_tool ON public.tool_asset USING btree (tool_id, accepted_at);

create table tool_proposal (
  proposal_id bigint not null generated always as identity,
  machine_id bigint not null,
  status text not null default 'open'::text,
  kind text not null,
  source text,
  unit text,
  fingerprint text not null,
  items json not null,
  others integer not null,
  choices json,
  outcome json,
  by_name text,
  reason text,
  created_at timestamp(3) with time zone not null default now(),
  decided_at timestamp(3) with time zone,
  constraint tool_proposal_pkey PRIMARY KEY (proposal_id),
  constraint tool_proposal_decided CHECK (((status = 'open'::text) = (decided_at IS NULL))),
  constraint tool_proposal_machine_id_fkey FOREIGN KEY (machine_id) REFERENCES machine(machine_id),
  constraint tool_proposal_status_known CHECK ((status = ANY (ARRAY['open'::text, 'accepted'::text, 'declined'::text]))),
  constraint tool_proposal_unit_known CHECK ((unit = ANY (ARRAY['mm'::text, 'inch'::text])))
);
CREATE INDEX tool_proposal_machine ON public.tool_proposal USING btree (machine_id, proposal_id);
CREATE UNIQUE INDEX tool_proposal_waiting ON public.tool_proposal USING btree (machine_id, fingerprint) WHERE (status = 'open'::text);

create table upkeep (
  one boolean not null default true,
  probed_at timestamp(3) with time zone not null default now(),
  backed_up_at timestamp(3) with time zone,
  constraint upkeep_pkey PRIMARY KEY (one),
  constraint upkeep_one_row CHECK (one)
);
