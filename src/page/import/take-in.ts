import { api, ask, askAll, Refused } from "../client.js";

/** A trial takes 200,000 characters; base64 makes four of three bytes. */
const longestSample = 120_000;
const partBytes = 1_000_000;
const longestParts = 64;
const nothingMore = { joined: 0, next: null, corrections: [], next_checks: [] };

/** The head of a file as it may be tried, up to the end of a line, and as text to be looked at. */
export async function headOf(file: File) {
  const isWhole = file.size <= longestSample;
  let bytes = new Uint8Array(await file.slice(0, longestSample).arrayBuffer());
  if (!isWhole) {
    const end = bytes.lastIndexOf(10);
    // Of UTF-16 with its low byte first the end of line has one byte more.
    if (end > 0) bytes = bytes.slice(0, bytes[end + 1] === 0 ? end + 2 : end + 1);
  }
  let binary = "";
  for (let at = 0; at < bytes.length; at += 8192)
    binary += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return { base64: btoa(binary), text: decode(bytes), isWhole };
}

function decode(bytes: Uint8Array): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder("utf-16le").decode(bytes);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder("utf-16be").decode(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes, { stream: true });
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}

interface ImportQuery {
  layout_id: string;
  batch_id?: string;
  first_piece?: number;
  taken_by?: string;
  source?: string;
}

function send(file: Blob, query: ImportQuery & { dry_run?: boolean; open?: boolean }) {
  return ask(
    api.POST("/v1/readings/imports", {
      params: { query },
      headers: { "content-type": "application/octet-stream" },
      body: file as never,
      bodySerializer: (body: unknown) => body as Blob,
    }),
  );
}
export type Answer = Awaited<ReturnType<typeof send>>;

export function tryFile(file: File, query: ImportQuery): Promise<Answer> {
  return send(file, { ...query, dry_run: true });
}

/**
 * Takes a file in. A long one goes in parts, each where the service says that it has come to, so that its progress is known and a
 * lost connection costs one part at most.
 * @param isWhole the format can only be read as a whole
 */
export async function takeIn(
  file: File,
  query: ImportQuery,
  isWhole: boolean,
  progress: (answer: Pick<Answer, "next_offset" | "accepted" | "refused_count">) => void,
): Promise<Answer> {
  if (isWhole || file.size <= partBytes) return send(file, query);
  let answer = await send(file.slice(0, partBytes), { ...query, open: true });
  const refused = [...answer.refused];
  let length = partBytes;
  for (let isLast = false; !isLast; ) {
    progress(answer);
    const from = answer.next_offset;
    const to = Math.min(file.size, from + length);
    isLast = to === file.size;
    answer = await sendPart(answer.import_id ?? "", file.slice(from, to), from, isLast);
    // A part without the end of a line tells nothing yet.
    length = answer.next_offset === from ? Math.min(length * 2, partBytes * longestParts) : partBytes;
    refused.push(...answer.refused);
  }
  return { ...answer, refused: refused.slice(0, 100) };
}

async function sendPart(importId: string, part: Blob, offset: number, last: boolean): Promise<Answer> {
  for (let tries = 0; ; tries++) {
    try {
      return await ask(
        api.POST("/v1/imports/{import_id}/content", {
          params: { path: { import_id: importId }, query: { offset, last } },
          headers: { "content-type": "application/octet-stream" },
          body: part as never,
          bodySerializer: (body: unknown) => body as Blob,
        }),
      );
    } catch (error) {
      if (error instanceof Refused && error.status !== 409) throw error;
      if (tries === 60) throw error;
      if (error instanceof Refused) {
        // It may have come to its end by a part of which only the answer was lost.
        const known = await ask(
          api.GET("/v1/imports/{import_id}", { params: { path: { import_id: importId } } }),
        );
        if (known.status !== "open") return { ...known, ...nothingMore, refused: await listLines(importId) };
      }
      await new Promise((resolve) => setTimeout(resolve, 1000));
    }
  }
}

export function listLines(importId: string) {
  return askAll((cursor) =>
    ask(
      api.GET("/v1/imports/{import_id}/lines", {
        params: { path: { import_id: importId }, query: { state: "refused", ...(cursor && { cursor }) } },
      }),
    ),
  );
}
export type RefusedLine = Awaited<ReturnType<typeof listLines>>[number];
