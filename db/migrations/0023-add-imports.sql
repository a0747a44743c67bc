-- Layouts of text logs and tables, imports by them, and what files say of themselves.

create table log_layout (
  layout_id bigint generated always as identity primary key,
  name text not null constraint log_layout_name_unique unique,
  layout json not null, -- in the order in which it was written
  version integer not null default 1,
  created_at timestamptz(3) not null default now(),
  changed_at timestamptz(3) not null default now()
);

-- One row per file or stream that is read in. `next_offset` and `reader_state` say where it is to be taken up again: they are
-- written with the readings before that place, or not at all.
create table reading_import (
  import_id bigint generated always as identity primary key,
  layout_id bigint not null references log_layout,
  batch_id bigint references batch,
  source text,
  settings jsonb not null,
  status text not null default 'open'
    constraint reading_import_status_known check (status in ('open', 'complete', 'failed')),
  reason text,
  next_offset bigint not null default 0,
  reader_state jsonb,
  counters jsonb not null, -- pieces counted so far, where the layout counts them
  tallies jsonb not null,
  batch_ids bigint[] not null default '{}',
  idempotency_key text constraint reading_import_key_unique unique,
  started_at timestamptz(3) not null default now(),
  moved_at timestamptz(3) not null default now(),
  ended_at timestamptz(3)
);
create index reading_import_source on reading_import (source, import_id) where source is not null;

-- Lines that gave no reading: kept as they are, so that they can be read again by a mended layout.
create table import_line (
  import_id bigint not null references reading_import,
  line integer not null,
  last_line integer not null,
  state text not null
    constraint import_line_state_known check (state in ('refused', 'repeated', 'not_measured', 'mended')),
  text text not null,
  parser_state jsonb, -- what the reader had to know by then
  faults jsonb not null,
  primary key (import_id, line)
);
create index import_line_state on import_line (import_id, state, line);

-- What a file says of a reading beside its value. No foreign keys, for the reason that readings have none.
create table import_reading (
  batch_id bigint not null,
  reading_no integer not null,
  import_id bigint not null,
  line integer not null,
  column_name text,
  lower_limit_mm numeric(18, 9), -- those it was judged by, as they were that day; of an angle in arcseconds
  upper_limit_mm numeric(18, 9),
  said jsonb not null,
  primary key (batch_id, reading_no)
);
create index import_reading_line on import_reading (import_id, line);

-- Which piece of a batch a serial number is, where an import numbers pieces by them; given once.
create table piece_serial (
  batch_id bigint not null references batch,
  serial text not null,
  piece integer not null constraint piece_serial_piece_positive check (piece > 0),
  primary key (batch_id, serial),
  constraint piece_serial_piece_unique unique (batch_id, piece)
);

create index reading_serial on reading (batch_id, serial) include (piece) where serial is not null;
