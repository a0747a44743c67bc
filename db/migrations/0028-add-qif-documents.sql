-- What QIF documents define, by their persistent ids: values in other documents may be measured of it. A document that comes
-- again says how it is now.
create table qif_document (
  qpid text primary key,
  import_id bigint not null references reading_import,
  characteristics jsonb not null, -- by the ids of the document's items
  received_at timestamptz(3) not null default now()
);

-- Values whose document has not come yet, by its persistent id.
create index import_line_waits on import_line ((parser_state -> 'parser' -> 'waits_for' ->> 'qpid'))
  where state = 'refused' and parser_state -> 'parser' ? 'waits_for';
