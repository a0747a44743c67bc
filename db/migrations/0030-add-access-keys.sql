-- Keys by which people and programs get in, and the list of all changes with who made them.

create table access_key (
  key_id bigint generated always as identity primary key,
  name text not null constraint access_key_name_unique unique,
  role text not null constraint access_key_role_known check (role in ('uploader', 'operator', 'engineer', 'admin')),
  prefix text not null constraint access_key_prefix_unique unique, -- the part that is shown and looked up
  secret_hash bytea not null constraint access_key_hash_is_sha_256 check (length(secret_hash) = 32),
  created_at timestamptz(3) not null default now(),
  created_by text, -- name of the key that made it; null: the command line
  last_used_at timestamptz(3), -- to the minute
  revoked_at timestamptz(3),
  revoked_by text,
  constraint access_key_revoked_by_after check (revoked_by is null or revoked_at is not null)
);

-- One row for each change, written in the change's own transaction. Readings are their own record: reading.key_name.
create table audit (
  audit_id bigint generated always as identity primary key,
  at timestamptz(3) not null default now(),
  key_name text, -- null: the service asked for no key, or the command line
  by_name text,
  operation text not null,
  entities jsonb not null, -- what it was done to and what came of it: { "batch_id": "12" }
  request jsonb, -- what was sent; null: nothing, or a file
  request_id text
);
create index audit_at on audit (at, audit_id);
create index audit_key on audit (key_name, audit_id);
create index audit_entities on audit using gin (entities jsonb_path_ops);

create function refuse_change() returns trigger language plpgsql as $$
begin
  raise exception '% is only ever added to: % is refused', tg_table_name, lower(tg_op) using errcode = 'restrict_violation';
end
$$;

create trigger audit_append_only before update or delete on audit for each row execute function refuse_change();
create trigger audit_not_truncated before truncate on audit for each statement execute function refuse_change();

alter table reading add column key_name text;

-- What was measured stays: a reading is voided, never changed.
create trigger reading_stays before update of feature_id, piece, cut, repeat, value_mm, value_given, unit, gauge_id, measured_at,
  taken_by, key_name on reading for each row execute function refuse_change();
