/**
 * A backup is one text file, compressed by gzip: a head, then for each table a line that names it, its rows as COPY writes them
 * and a line with a backslash and a full stop, then a line with a digest of all that stands before it. Rows are what Postgres
 * itself writes and reads, so that they can be loaded by hand where all else fails.
 */
export const mark = "onsize backup 1 ";
export const tableMark = "table ";
export const endMark = "end ";
export const endOfRows = "\\.";

export interface BackupHead {
  taken_at: string;
  /** The newest migration of the database; a service that knows it can restore the file. */
  migration: string;
  /** Where each partition of the readings begins. */
  partitions: string[];
  /** Last value given out by each counter of ids. */
  sequences: Record<string, string>;
}

export interface BackupTable {
  table: string;
  columns: string[];
}

export interface BackupEnd {
  rows: Record<string, number>;
  sha256: string;
}
