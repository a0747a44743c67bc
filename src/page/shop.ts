import { api, ask, askAll } from "./client.js";
import type { Route } from "./route.js";

/** What the page shows of one job in work, read in one go. */
export async function loadJob(batchId: string, wanted?: { piece: number }) {
  const [batch, plan, open] = await Promise.all([
    ask(api.GET("/v1/batches/{batch_id}", { params: { path: { batch_id: batchId } } })),
    ask(
      api.GET("/v1/batches/{batch_id}/checks", {
        params: { path: { batch_id: batchId }, query: wanted ? { piece: wanted.piece } : {} },
      }),
    ),
    askAll((cursor) =>
      ask(
        api.GET("/v1/corrections", {
          params: { query: { status: "proposed", batch_id: batchId, ...(cursor && { cursor }) } },
        }),
      ),
    ),
  ]);
  const piece = wanted?.piece ?? plan.piece;
  const [part, readings] = await Promise.all([
    loadPart(batch.part_id),
    askAll((cursor) =>
      ask(
        api.GET("/v1/readings", {
          params: { query: { batch_id: batchId, piece, ...(cursor && { cursor }) } },
        }),
      ),
    ),
  ]);
  return { batch, plan, corrections: open, part, readings: readings.filter(({ voided }) => !voided), piece };
}
export type Job = Awaited<ReturnType<typeof loadJob>>;

export type Reading = Job["readings"][number];
export type Correction = Job["corrections"][number];

/** The machines with their jobs in work, and the gauges by their ids. */
export async function loadShop() {
  const [machines, batches, gauges] = await Promise.all([
    askAll((cursor) => ask(api.GET("/v1/machines", { params: { query: { ...(cursor && { cursor }) } } }))),
    askAll((cursor) =>
      ask(api.GET("/v1/batches", { params: { query: { open: true, ...(cursor && { cursor }) } } })),
    ),
    askAll((cursor) => ask(api.GET("/v1/gauges", { params: { query: { ...(cursor && { cursor }) } } }))),
  ]);
  return { machines, batches, gauges: new Map(gauges.map((gauge) => [gauge.gauge_id, gauge])) };
}
export type Shop = Awaited<ReturnType<typeof loadShop>>;

/** What every screen besides *Now* is given; its file exports it as default. */
export interface ScreenProps {
  route: Route;
  shop: Shop;
  isLost: boolean;
}

export function loadTools(machineId: string) {
  return askAll((cursor) =>
    ask(api.GET("/v1/tools", { params: { query: { machine_id: machineId, ...(cursor && { cursor }) } } })),
  );
}

// A part never changes what is shown here while a job of it is in work, save for who cuts what with which gauge.
const parts = new Map<string, ReturnType<typeof requestPart>>();
export function loadPart(partId: string) {
  const known = parts.get(partId) ?? requestPart(partId);
  parts.set(partId, known);
  known.catch(() => parts.delete(partId));
  return known;
}
function requestPart(partId: string) {
  return ask(api.GET("/v1/parts/{part_id}", { params: { path: { part_id: partId } } }));
}

/** What has to be read of this piece, in the order of the plan: a line for each feature, or for each place of it. */
export function linesOf({ plan, part, readings }: Job, cut: number) {
  const byId = new Map(part.features.map((feature) => [feature.feature_id, feature]));
  // Of a piece that is cut again all is measured that was measured before.
  const measured = [...new Map(readings.map((one) => [one.feature_id, one])).values()];
  const wanted =
    cut === 1
      ? plan.features
      : measured.map(({ feature_id, gauge_id }) => {
          const places = byId.get(feature_id)?.places ?? null;
          return { feature_id, places, gauge_id, sure_piece: true };
        });
  return wanted.flatMap((due) => {
    const feature = byId.get(due.feature_id);
    if (!feature) return [];
    const places: (string | null)[] = due.places ?? [null];
    return places.map((place) => ({
      key: `${due.feature_id} ${place ?? ""}`,
      due,
      feature,
      place,
      reading: readings
        .filter((one) => one.feature_id === due.feature_id && one.place === place && one.cut === cut)
        .at(-1),
    }));
  });
}
export type Line = ReturnType<typeof linesOf>[number];
