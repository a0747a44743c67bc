-- Advice to have a gauge checked that reads otherwise beside the reference gauge than it did.

alter table correction
  drop constraint correction_kind_known,
  add constraint correction_kind_known
    check (kind in ('change', 'measure_again', 'change_tool', 'find_cause', 'check_gauge'));
