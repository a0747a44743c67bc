import { randomUUID } from "node:crypto";
import { type FileHandle, mkdir, open, readdir, rename, rm, stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import type { Readable } from "node:stream";
import type { Journal } from "./journal.js";
import { headOf, type Place, placeFile, readPlace, writePlace } from "./place.js";
import { type ImportAnswer, NotNow, Refused, send } from "./service.js";
import type { Settings } from "./settings.js";
import { dropSpool, readSpool, spoolFile, spoolOn } from "./spool.js";

const bytesAtOnce = 1024 * 1024;

/** Whether the spool has what the service has not taken. */
function unsent({ spool, offset, ended }: Place): boolean {
  return spool !== undefined && !ended && spool.to > offset;
}

/** Bytes of a file from one place to another. */
type Source = (start: number, end: number) => Readable | Buffer;

/** A file that is no more, of which only the spool is left. */
interface Gone {
  /** Where its place is noted. */
  file: string;
  place: Place;
}

/** Gives spooled bytes another name; false: there are none. */
async function takeOver(from: string, to: string): Promise<boolean> {
  try {
    await rename(from, to);
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ENOENT") return false;
    throw error;
  }
}

/** One file, through its growth and its replacement by another of its name. */
export class FollowedFile {
  private place: Place | undefined;
  private gone: Gone[] | undefined;
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
    try {
      return await this.goOn();
    } catch (error) {
      if (error instanceof NotNow) await this.spool();
      throw error;
    }
  }

  private async goOn(): Promise<boolean> {
    this.gone ??= await this.findGone();
    while (this.gone.length > 0) {
      await this.sendGone(this.gone[0]!);
      this.gone.shift();
    }
    this.place ??= await readPlace(this.file);
    if (this.place && !this.handle) await this.findAgain(this.place);
    const now = await stat(this.path).catch(() => undefined);
    const isOther = this.handle && this.place && !(await this.isSame(now));
    if (isOther) {
      if (await this.hasLostBytes()) await this.setAside();
      else await this.finish("was replaced by another file of its name");
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
    if (unsent(place)) return await this.setAside();
    this.journal.say(
      this.path,
      "the file that was read last is gone; what stands there now is read from its beginning",
    );
    this.place = undefined;
  }

  /** Copies what the service, which is away, has not taken: the machine may empty or delete its log at any time. */
  async spool(): Promise<void> {
    const { place, handle } = this;
    if (!place || !handle || place.ended) return;
    const { size } = await handle.stat();
    const had = place.spool?.to ?? place.offset;
    if (size < had || (await headOf(handle, place.head.length)).hash !== place.head.hash) {
      if (!unsent(place)) return;
      await this.setAside();
      return await this.spool();
    }
    if (size > had && !(await this.keep(size))) return;
    // The next log has begun under its name: that one is spooled from here on.
    if (await this.isReplaced()) await this.setAside();
  }

  /** Copies what there is up to `size` into the spool; false: it can't. */
  private async keep(size: number): Promise<boolean> {
    const place = this.place!;
    try {
      await mkdir(this.settings.stateFolder, { recursive: true });
      place.spool = await spoolOn(spoolFile(this.file), this.handle!, place.spool, place.offset, size);
    } catch (error) {
      const { code, message } = error as NodeJS.ErrnoException;
      this.journal.say(
        this.path,
        `the service is away and its lines can't be spooled (${code ?? message}): nothing is lost as long as the log itself is kept`,
      );
      return false;
    }
    await this.note();
    return true;
  }

  /** Put aside under another name, as the next log begins: it keeps its bytes. */
  private async isReplaced(): Promise<boolean> {
    const atPath = await stat(this.path, { bigint: true }).catch(() => undefined);
    return atPath !== undefined && String(atPath.ino) !== this.place!.inode;
  }

  private async hasLostBytes(): Promise<boolean> {
    const { place, handle } = this;
    if (!unsent(place!)) return false;
    const { size } = await handle!.stat();
    return size < place!.spool!.to || (await headOf(handle!, place!.head.length)).hash !== place!.head.hash;
  }

  /** The file has lost what the service has not taken; the spool has it, and goes first. */
  private async setAside(): Promise<void> {
    const place = this.place!;
    const file = this.file.replace(/\.json$/, `.gone-${Date.now()}.json`);
    place.spool ??= await spoolOn(spoolFile(this.file), this.handle!, undefined, place.offset, place.offset);
    // Its place first: what is cut off in between is found by it, bytes without a place would be lost.
    await writePlace(this.settings.stateFolder, file, place);
    if (await takeOver(spoolFile(this.file), spoolFile(file)))
      this.gone = [...(this.gone ?? []), { file, place }];
    else await rm(file, { force: true }); // it was set aside before, by a run that was cut off
    this.journal.say(this.path, "was emptied or deleted; what had not been taken yet is in the spool");
    await this.close();
    await rm(this.file, { force: true });
    this.place = undefined;
    const now = await open(this.path, "r").catch(() => undefined);
    if (!now) return;
    this.handle = now;
    await this.begin();
  }

  /** Files set aside before, oldest first. */
  private async findGone(): Promise<Gone[]> {
    const { stateFolder } = this.settings;
    const start = `${basename(this.file).replace(/\.json$/, "")}.gone-`;
    const names = await readdir(stateFolder).catch(() => []);
    const found: Gone[] = [];
    for (const name of names.filter((one) => one.startsWith(start) && one.endsWith(".json")).sort()) {
      const file = join(stateFolder, name);
      const place = await readPlace(file);
      if (!place?.spool) continue;
      // Cut off while it was set aside: its bytes have the name of the log's place yet.
      const hasBytes = await stat(spoolFile(file)).then(
        () => true,
        () => takeOver(spoolFile(this.file), spoolFile(file)),
      );
      if (hasBytes) found.push({ file, place });
    }
    return found;
  }

  private async sendGone({ file, place }: Gone): Promise<void> {
    const spool = place.spool!;
    const source: Source = (start, end) => readSpool(spoolFile(file), spool, start, end);
    for (let length = bytesAtOnce; !place.ended; ) {
      const { offset } = place;
      const end = Math.min(spool.to, offset + length);
      const last = end === spool.to;
      let answer: ImportAnswer;
      try {
        answer = await this.sendTo(place, source, offset, end, last, () =>
          writePlace(this.settings.stateFolder, file, place),
        );
      } catch (error) {
        if (!(error instanceof Refused)) throw error;
        const next = /go on at offset (\d+)/.exec(error.message)?.[1];
        if (error.status === 409 && next !== undefined && Number(next) >= spool.from) {
          place.offset = Number(next);
          continue;
        }
        this.journal.say(
          this.path,
          `what was spooled of it can't be read on: ${error.message} It is kept in ${spoolFile(file)}: see to it by hand`,
        );
        await rename(file, `${file}.kept`);
        return;
      }
      place.offset = answer.next_offset;
      place.ended = last;
      this.journal.tell(this.path, answer);
      length = place.offset === offset ? 2 * length : bytesAtOnce;
    }
    await rm(file, { force: true }); // before its bytes: a place without them would take those of the next log
    await dropSpool(spoolFile(file));
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
    const source: Source = (start, to) =>
      to > start ? this.handle!.createReadStream({ start, end: to - 1, autoClose: false }) : Buffer.alloc(0);
    try {
      return await this.sendTo(this.place!, source, offset, end, last, () => this.note());
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      return await this.giveWay(error);
    }
  }

  private async sendTo(
    place: Place,
    source: Source,
    offset: number,
    end: number,
    last: boolean,
    note: () => Promise<void>,
  ): Promise<ImportAnswer> {
    const { settings } = this;
    if (place.importId === undefined) {
      const query = { ...settings.query, source: basename(this.path).slice(0, 100), open: "true" };
      const begun = await send(settings, "/v1/readings/imports", query, Buffer.alloc(0), place.key);
      place.importId = begun.import_id!;
      place.offset = begun.next_offset;
      await note();
      return await this.sendTo(place, source, place.offset, Math.max(end, place.offset), last, note);
    }
    const query = { offset: String(offset), last: String(last) };
    return await send(settings, `/v1/imports/${place.importId}/content`, query, source(offset, end));
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
    const isTaken = place.spool !== undefined && place.offset >= place.spool.to;
    if (isTaken) place.spool = undefined;
    if (isNews || last) {
      await this.note();
      if (isTaken) await dropSpool(spoolFile(this.file));
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
