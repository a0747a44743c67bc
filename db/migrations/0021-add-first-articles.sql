alter table feature add column drawing_zone text;

-- What a first-article report says beyond what was measured; never changed, only voided.
create table first_article (
  first_article_id bigint generated always as identity primary key,
  part_id bigint not null references part,
  report_number text not null constraint first_article_number_unique unique,
  extent text not null constraint first_article_extent_known check (extent in ('full', 'partial')),
  reason text not null constraint first_article_reason_known check (reason in (
    'first_production', 'design_change', 'source_change', 'process_change', 'inspection_method_change',
    'place_change', 'tooling_change', 'material_change', 'program_change', 'natural_or_man_made_event',
    'corrective_action', 'lapse_in_production', 'other')),
  note text,
  baseline_id bigint references first_article,
  -- {batch_id, piece}: where each operation was measured
  pieces jsonb not null,
  -- balloon numbers that a partial one covers; null: all
  characteristics text[],
  -- by balloon number: tooling, nonconformance
  remarks jsonb not null,
  -- the fields that people fill in: who made it, order, materials, processes, tests, parts of an assembly
  fields jsonb not null,
  by_name text,
  created_at timestamptz(3) not null default now(),
  voided_at timestamptz(3),
  void_reason text,
  voided_by text,
  constraint first_article_partial_has_scope check ((extent = 'partial') = (characteristics is not null))
);
create index first_article_part on first_article (part_id, first_article_id);
create index first_article_baseline on first_article (baseline_id) where baseline_id is not null;
