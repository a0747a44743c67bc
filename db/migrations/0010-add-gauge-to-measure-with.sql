-- Which gauge a repeat is asked of: where two gauges disagree only the reference can say which of them is right.

alter table correction add column gauge_id bigint references gauge;
