import { createReadStream } from "node:fs";
import { type FileHandle, open, rm } from "node:fs/promises";
import type { Readable } from "node:stream";

/** Bytes of a file that the service has not taken yet, kept beside the place: they outlive the file itself. */
export interface Spooled {
  /** Where in the file they begin and end. */
  from: number;
  to: number;
}

const bytesAtOnce = 1024 * 1024;

export function spoolFile(placeFile: string): string {
  return placeFile.replace(/\.json$/, ".spool");
}

/**
 * Copies what a file has up to `size` behind what is spooled of it, and waits until the disk has it.
 * @throws when the disk is full: what was spooled before stays as it is
 */
export async function spoolOn(
  spool: string,
  source: FileHandle,
  known: Spooled | undefined,
  offset: number,
  size: number,
): Promise<Spooled> {
  const kept = known ?? { from: offset, to: offset };
  const target = await open(spool, known ? "r+" : "w");
  let to = kept.to;
  try {
    const buffer = Buffer.allocUnsafe(bytesAtOnce);
    while (to < size) {
      const { bytesRead } = await source.read(buffer, 0, Math.min(bytesAtOnce, size - to), to);
      if (bytesRead === 0) break; // it has become shorter in the meantime
      await target.write(buffer, 0, bytesRead, to - kept.from);
      to += bytesRead;
    }
    await target.sync();
  } finally {
    await target.close();
  }
  return { from: kept.from, to };
}

/** Bytes of the file from one place to another, as they were spooled. */
export function readSpool(spool: string, { from }: Spooled, start: number, end: number): Readable | Buffer {
  return end > start
    ? createReadStream(spool, { start: start - from, end: end - 1 - from })
    : Buffer.alloc(0);
}

export async function dropSpool(spool: string): Promise<void> {
  await rm(spool, { force: true });
}
