-- A gauge that is rocked or turned passes a turning point, and the size there is the reading.

alter table reading add column rocked text[]; -- all that it showed, in the reading's unit; null: it was not rocked
