import { z } from "zod";
import type { Db } from "../../db/client.js";
import { ProblemError, problems } from "../../http/problem.js";
import type { App } from "../../http/types.js";
import { type Change, Watch } from "./watch.js";

const mostStreams = 500;
const heartbeatMs = 15_000;
/** A reader that leaves so much unread is cut off: it comes again, and is told what it missed. */
const mostUnread = 64 * 1024;

const description = `A stream of server-sent events (HTML, section 9.2) that goes on until the reader leaves. The event \`changed\` says in JSON which batches have
changed, and whether anything else has: \`{"batches":["3"],"shop":false}\`. Its id stands for all that there is after it, in
every replica alike: sent as \`Last-Event-ID\` after a lost connection, it tells whether anything was missed. What has changed is asked for
as ever; an event never holds it.`;

export async function eventRoutes(app: App, { db }: { db: Db }) {
  const watch = new Watch(db);
  const streams = new Set<() => void>();
  app.addHook("preClose", async () => {
    for (const end of streams) end();
  });

  app.get("/events", {
    config: { isUncounted: true },
    schema: {
      operationId: "listenToChanges",
      summary: "Be told as soon as something changes",
      description,
      tags: ["service"],
      headers: z.looseObject({
        "last-event-id": z.string().max(64).optional().describe("Id of the last event that was read"),
      }),
      response: {
        200: {
          description: "Events, as they happen",
          content: {
            "text/event-stream": {
              schema: z.string().meta({
                description: "Server-sent events",
                examples: ['id: zM3u\nevent: changed\ndata: {"batches":["3"],"shop":false}\n\n'],
              }),
            },
          },
        },
        ...problems({ 503: "So many listen already that another one would not be told in good time" }),
      },
    },
    handler: async (request, reply): Promise<undefined> => {
      if (watch.count >= mostStreams)
        throw new ProblemError(
          "unavailable",
          `${mostStreams} readers listen already: ask from time to time instead.`,
        );
      // Listened to first, so that nothing falls between what was missed and what comes.
      const early: Change[] = [];
      let send = (change: Change): void => {
        early.push(change);
      };
      const leave = watch.listen((change) => send(change));
      const missed = await watch.missed(request.headers["last-event-id"]).catch((error) => {
        leave();
        throw error;
      });
      reply.hijack();
      const { raw } = reply;
      for (const [name, value] of Object.entries(reply.getHeaders()))
        if (value !== undefined) raw.setHeader(name, value);
      raw.writeHead(200, {
        "content-type": "text/event-stream; charset=utf-8",
        "cache-control": "no-store",
        "x-accel-buffering": "no",
      });
      const write = (text: string) => {
        raw.write(text);
        if (raw.writableLength > mostUnread) raw.destroy();
      };
      send = ({ id, ...what }) => write(`id: ${id}\nevent: changed\ndata: ${JSON.stringify(what)}\n\n`);
      write(`retry: 1000\n\n`);
      send(missed);
      for (const change of early) send(change);
      const heartbeat = setInterval(() => write(": still here\n\n"), heartbeatMs);
      const end = () => raw.end();
      streams.add(end);
      raw.once("close", () => {
        clearInterval(heartbeat);
        streams.delete(end);
        leave();
      });
      return undefined;
    },
  });
}
