import { randomUUID } from "node:crypto";
import { type FileHandle, open, readdir, stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import type { Journal } from "./journal.js";
import { headOf, type Place, placeFile, readPlace, writePlace } from "./place.js";
import { type ImportAnswer, Refused, send } from "./service.js";
import type { Settings } from "./settings.js";

const bytesAtOnce = 1024 * 1024;

/** One file, through its growth and its replacement by another of its name. */
export class FollowedFile {
  private place: Place | undefined;
  private handle: FileHandle | undefined;
  private seen = { size: -1, changedAt: 0, sentAll: false };
  private readonly file: string;

  constructor(
    private readonly settings: Settings,
    private readonly path: string,
    private readonly journal: Journal,
  ) {
    this.file = placeFile(settings.stateFolder, path);
  }

  /** Reads on what has come since; true: something was sent. @throws {NotNow} when it is to be done again later */
  async look(): Promise<boolean> {
    this.place ??= await readPlace(this.file);
    if (this.place && !this.handle) await this.findAgain(this.place);
    const now = await stat(this.path).catch(() => undefined);
    const isOther = this.handle && this.place && !(await this.isSame(now));
    if (isOther) {
      await this.finish("was replaced by another file of its name");
      return true;
    }
    if (!now?.isFile()) return false;
    this.handle ??= await open(this.path, "r");
    if (!this.place) await this.begin();
    return await this.readOn();
  }

  async close(): Promise<void> {
    await this.handle?.close();
    this.handle = undefined;
  }

  /** After a restart: the file of the place may have another name by now. */
  private async findAgain(place: Place): Promise<void> {
    const folder = dirname(this.path);
    const names = [basename(this.path), ...(await readdir(folder).catch(() => []))];
    for (const name of names) {
      const path = join(folder, name);
      const found = await stat(path, { bigint: true }).catch(() => undefined);
      if (!found?.isFile() || String(found.ino) !== place.inode) continue;
      const handle = await open(path, "r");
      if (
        (await headOf(handle, place.head.length)).hash === place.head.hash &&
        Number(found.size) >= place.offset
      ) {
        this.handle = handle;
        return;
      }
      await handle.close();
    }
    this.journal.say(
      this.path,
      "the file that was read last is gone; what stands there now is read from its beginning",
    );
    this.place = undefined;
  }

  private async isSame(now: { size: number } | undefined): Promise<boolean> {
    const { place, handle } = this;
    const atPath = now && (await stat(this.path, { bigint: true }).catch(() => undefined));
    if (!atPath || String(atPath.ino) !== place!.inode) return false;
    const held = await handle!.stat();
    if (held.size < place!.offset) return false;
    return (await headOf(handle!, place!.head.length)).hash === place!.head.hash;
  }

  private async begin(): Promise<void> {
    const { ino } = await this.handle!.stat({ bigint: true });
    this.place = {
      path: this.path,
      inode: String(ino),
      head: await headOf(this.handle!),
      key: randomUUID(),
      importId: undefined,
      offset: 0,
      ended: false,
    };
    this.seen = { size: -1, changedAt: 0, sentAll: false };
    await this.note();
  }

  /** Sends what the file has beyond its place, in pieces; a line without its end waits for more. */
  private async readOn(): Promise<boolean> {
    const { size } = await this.handle!.stat();
    if (size !== this.seen.size) this.seen = { size, changedAt: Date.now(), sentAll: false };
    const { finishedAfterMs, once } = this.settings;
    const isFinished =
      once || (finishedAfterMs !== undefined && Date.now() - this.seen.changedAt >= finishedAfterMs);
    if (this.place!.ended || (this.seen.sentAll && !isFinished)) return await this.beginAnewIfGrown(size);
    if (size === 0 && !once) return false;
    let sent = false;
    for (let length = bytesAtOnce; ; ) {
      const { offset } = this.place!;
      const end = Math.min(size, offset + length);
      const last = isFinished && end === size;
      const answer = await this.sendPiece(offset, end, last);
      if (!answer) return true;
      sent = true;
      await this.moveTo(answer, last);
      if (end === size || last) break;
      // A line longer than a piece: the next one begins at the same place and is longer.
      length = this.place!.offset === offset ? 2 * length : bytesAtOnce;
    }
    this.seen.sentAll = true;
    return sent;
  }

  private async beginAnewIfGrown(size: number): Promise<boolean> {
    if (!this.place!.ended || size <= this.place!.offset) return false;
    // It had come to its end and grew all the same: what it had is recognised by what it says.
    await this.begin();
    return true;
  }

  private async sendPiece(offset: number, end: number, last: boolean): Promise<ImportAnswer | undefined> {
    const { settings, place } = this;
    const body =
      end > offset
        ? this.handle!.createReadStream({ start: offset, end: end - 1, autoClose: false })
        : Buffer.alloc(0);
    try {
      if (place!.importId !== undefined) {
        const query = { offset: String(offset), last: String(last) };
        return await send(settings, `/v1/imports/${place!.importId}/content`, query, body);
      }
      const query = { ...settings.query, source: basename(this.path).slice(0, 100), open: "true" };
      const begun = await send(settings, "/v1/readings/imports", query, Buffer.alloc(0), place!.key);
      place!.importId = begun.import_id!;
      place!.offset = begun.next_offset;
      await this.note();
      return await this.sendPiece(place!.offset, Math.max(end, place!.offset), last);
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      return await this.giveWay(error);
    }
  }

  /** The service does not take it: another import has to begin, or a person has to see to it. */
  private async giveWay(error: Refused): Promise<undefined> {
    const { place } = this;
    if (
      place!.importId !== undefined &&
      (error.status === 404 || /^Import \S+ is (complete|failed)/.test(error.message))
    ) {
      this.journal.say(this.path, `${error.message} Begun anew.`);
      await this.begin();
      return undefined;
    }
    if (place!.importId !== undefined && error.status === 409) {
      const offset = /go on at offset (\d+)/.exec(error.message)?.[1];
      if (offset !== undefined) {
        place!.offset = Number(offset);
        return undefined;
      }
    }
    if (place!.importId !== undefined && error.status === 422) {
      this.journal.say(this.path, `can't be read on: ${error.message}`);
      place!.ended = true;
      place!.offset = (await this.handle!.stat()).size;
      await this.note();
      return undefined;
    }
    throw error;
  }

  private async moveTo(answer: ImportAnswer, last: boolean): Promise<void> {
    const place = this.place!;
    const isNews = answer.next_offset > place.offset;
    place.offset = answer.next_offset;
    place.ended = last;
    if (isNews || last) {
      await this.note();
      this.journal.tell(this.path, answer);
    }
  }

  /** The file at the path is another one: the rest of the old one is read to its end first. */
  private async finish(why: string): Promise<void> {
    const { size } = await this.handle!.stat();
    const place = this.place!;
    if (!place.ended && size > place.offset && place.importId !== undefined) {
      while (!place.ended) {
        const end = Math.min(size, place.offset + 4 * bytesAtOnce);
        const answer = await this.sendPiece(place.offset, end, end === size);
        if (!answer) break;
        await this.moveTo(answer, end === size);
      }
    }
    this.journal.say(this.path, why);
    await this.close();
    this.place = undefined;
    const now = await open(this.path, "r").catch(() => undefined);
    if (!now) return;
    this.handle = now;
    await this.begin();
  }

  private async note(): Promise<void> {
    try {
      await writePlace(this.settings.stateFolder, this.file, this.place!);
    } catch (error) {
      const { code, message } = error as NodeJS.ErrnoException;
      this.journal.say(
        this.path,
        `its place can't be noted (${code ?? message}). It goes on; after a restart it is read from its beginning, and what is there is recognised`,
      );
    }
  }
}
