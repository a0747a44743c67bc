-- For questions about history: where an edge has cut, and where a change counted in other batches.

create index batch_machine_created on batch (machine_id, created_at);
create index register_entry_follows on register_entry (follows_entry_id) where follows_entry_id is not null;
