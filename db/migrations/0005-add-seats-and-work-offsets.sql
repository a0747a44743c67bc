-- Where in the fixture a piece sits, work offsets as registers of the machine that no tool carries, a reference gauge
-- beside the one that steers, and what a part says about its check plan.

alter table batch add column seats text[] not null default '{}';

alter table register alter column tool_id drop not null;
alter table register add column seat text;
alter table register drop constraint register_controls_known;
alter table register add constraint register_controls_known
  check (controls in ('radial', 'axial', 'x', 'z', 'work_x', 'work_y', 'work_z'));
alter table register add constraint register_without_tool_is_work_offset
  check ((tool_id is null) = (controls in ('work_x', 'work_y', 'work_z')));
alter table register add constraint register_seat_only_of_work_offset check (seat is null or tool_id is null);

alter table feature_cut alter column tool_id drop not null;
alter table feature_cut add constraint feature_cut_names_tool_or_register
  check (tool_id is not null or register_id is not null);

alter table feature add column reference_gauge_id bigint references gauge;

alter table part
  add column risk double precision not null default 0.005
    constraint part_risk_is_a_small_share check (risk > 0 and risk < 0.5),
  add column largest_interval integer not null default 10
    constraint part_largest_interval_in_range check (largest_interval >= 1 and largest_interval <= 1000);

alter table reading
  add column seat text, -- null: the batch names no seats, or the piece is only known to be one of several
  add column seat_given boolean not null default false, -- false: it follows from the piece's number
  add column gauge_reference boolean; -- on that day: a gauge may be declared no reference later
update reading set gauge_reference = gauge.reference from gauge where gauge.gauge_id = reading.gauge_id;
alter table reading alter column gauge_reference set not null;
