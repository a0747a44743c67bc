-- What a document of results or a plan says of a part, as features that a person may accept.
create table part_proposal (
  proposal_id bigint generated always as identity primary key,
  status text not null default 'open'
    constraint part_proposal_status_known check (status in ('open', 'accepted', 'declined')),
  source text,
  fingerprint text not null, -- of the document's bytes and what was declared beside them
  characteristics text not null, -- of the names of its characteristics: a part without a number is known again by them
  proposed json not null,
  part_qpid text,
  part_id bigint references part, -- once accepted
  by_name text,
  reason text,
  created_at timestamptz(3) not null default now(),
  decided_at timestamptz(3),
  constraint part_proposal_decided check ((status = 'open') = (decided_at is null))
);
-- The same document sent again while it waits for a person is the same proposal.
create unique index part_proposal_waiting on part_proposal (fingerprint) where status = 'open';
create index part_proposal_qpid on part_proposal (part_qpid, proposal_id) where status = 'accepted';
create index part_proposal_characteristics on part_proposal (characteristics, proposal_id) where status = 'accepted';
