-- What the service knows of its own keeping. Ready means that it can write: a probe writes this one row, so that a full disk
-- and a read-only server tell. It has a page to itself, and the versions it leaves behind stay there.
create table upkeep (
  one boolean primary key default true constraint upkeep_one_row check (one),
  probed_at timestamptz(3) not null default now(),
  backed_up_at timestamptz(3)
) with (fillfactor = 10);
insert into upkeep default values;
