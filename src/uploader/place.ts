import { createHash } from "node:crypto";
import { type FileHandle, mkdir, open, readFile, rename } from "node:fs/promises";
import { join } from "node:path";
import type { Spooled } from "./spool.js";

/**
 * How far a file has been read. The service keeps the place, too, and knows what it has: without this note a file is only
 * read once more from its beginning.
 */
export interface Place {
  path: string;
  /** What tells the file from another one of its name: its number in the file system, and how it begins. */
  inode: string;
  head: { length: number; hash: string };
  /** Names the import before it is begun, so that a beginning that was cut off is found again. */
  key: string;
  importId: string | undefined;
  offset: number;
  /** It has come to its end, or can't be read on. */
  ended: boolean;
  /** What the service has not taken of it while it was away. */
  spool?: Spooled | undefined;
}

const headLength = 1024;

export function placeFile(folder: string, path: string): string {
  return join(folder, `${createHash("sha256").update(path).digest("hex").slice(0, 24)}.json`);
}

/** The place that was noted last; undefined: none, or one that was cut off while it was written. */
export async function readPlace(file: string): Promise<Place | undefined> {
  try {
    return JSON.parse(await readFile(file, "utf8")) as Place;
  } catch {
    return undefined;
  }
}

/** Notes a place so that it is there after a power cut: whole, or the one before. @throws when the disk is full */
export async function writePlace(folder: string, file: string, place: Place): Promise<void> {
  await mkdir(folder, { recursive: true });
  const fresh = `${file}.new`;
  const handle = await open(fresh, "w");
  try {
    await handle.writeFile(JSON.stringify(place));
    await handle.sync();
  } finally {
    await handle.close();
  }
  await rename(fresh, file);
}

/** How a file begins: `length` bytes of it, by default up to 1024. */
export async function headOf(handle: FileHandle, length = headLength): Promise<Place["head"]> {
  const buffer = Buffer.alloc(length);
  const { bytesRead } = await handle.read(buffer, 0, length, 0);
  return {
    length: bytesRead,
    hash: createHash("sha256").update(buffer.subarray(0, bytesRead)).digest("hex"),
  };
}
