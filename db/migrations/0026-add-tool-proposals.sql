-- What a machine's document says of its tools and offsets, as changes that a person may accept.

create table tool_proposal (
  proposal_id bigint generated always as identity primary key,
  machine_id bigint not null references machine,
  status text not null default 'open'
    constraint tool_proposal_status_known check (status in ('open', 'accepted', 'declined')),
  kind text not null, -- of the document
  source text,
  unit text constraint tool_proposal_unit_known check (unit in ('mm', 'inch')), -- declared by who sent it
  fingerprint text not null, -- of its bytes and what was declared beside them
  items json not null, -- as it was proposed, in the order of the document
  others integer not null,
  choices json, -- what was accepted
  outcome json,
  by_name text,
  reason text,
  created_at timestamptz(3) not null default now(),
  decided_at timestamptz(3),
  constraint tool_proposal_decided check ((status = 'open') = (decided_at is null))
);
create index tool_proposal_machine on tool_proposal (machine_id, proposal_id);
-- The same document sent again while it waits for a person is the same proposal.
create unique index tool_proposal_waiting on tool_proposal (machine_id, fingerprint) where status = 'open';

-- Which of our tools a machine's asset is, once a person has said so; the latest asset of a tool is the one in use.
create table tool_asset (
  machine_id bigint not null references machine,
  asset_id text not null,
  tool_id bigint not null references tool,
  serial text,
  accepted_at timestamptz(3) not null default now(),
  primary key (machine_id, asset_id)
);
create index tool_asset_tool on tool_asset (tool_id, accepted_at);
