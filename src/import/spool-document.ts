import { createReadStream } from "node:fs";
import { mkdtemp, open, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { UnreadableSource } from "./source-record.js";

const largest = 1 << 30;

/** A body that has to be read twice, on the disk. */
export interface SpooledDocument {
  size: number;
  read(): AsyncIterable<Buffer>;
  close(): Promise<void>;
}

/**
 * Writes a body to a temporary file that has no name any more while it is used: whatever ends the process, nothing is left.
 * @throws {UnreadableSource} if it is above 1 GB
 */
export async function spoolDocument(body: AsyncIterable<Buffer>): Promise<SpooledDocument> {
  const folder = await mkdtemp(join(tmpdir(), "onsize-"));
  const file = await open(join(folder, "document"), "wx+", 0o600);
  await rm(folder, { recursive: true }).catch(() => undefined); // where an open file can't be removed, close() does
  const close = async () => {
    await file.close();
    await rm(folder, { recursive: true, force: true });
  };
  try {
    let size = 0;
    for await (const chunk of body) {
      if (size + chunk.length > largest)
        throw new UnreadableSource(
          1,
          "The document is above 1 GB. Have it written in parts, such as one for each lot.",
        );
      await file.write(chunk, 0, chunk.length, size);
      size += chunk.length;
    }
    const read = () => createReadStream("", { fd: file, start: 0, autoClose: false, highWaterMark: 1 << 18 });
    return { size, read, close };
  } catch (error) {
    await close();
    throw error;
  }
}
