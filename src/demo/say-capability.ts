import type { Shift } from "./shift.js";
import type { Teller } from "./tell.js";

interface Sayings {
  says: string[];
}

/** Ten-thousandths of a millimetre about 23.99: what thirty spigots measured, with one step of wear in them. */
const tenThousandths = [
  3, -4, 1, 6, -2, 0, 5, -5, 2, -1, 4, -3, 7, 0, 2, -2, 6, 1, 5, -1, 8, 3, 2, 6, 4, 9, 3, 7, 5, 8,
];

/** A chart and an index of one feature, in words; the chart as a picture, too. */
export async function sayCapability(shift: Shift, tell: Teller): Promise<void> {
  const { client } = shift;
  const { part, machines, gauges } = shift.shop;
  const spigot = part.features.find(({ characteristic }) => characteristic === "1")!;
  const place = { part_id: part.part_id, machine_id: machines.lathe.machine_id, operation: "10" };
  const { batch_id } = await client.post<{ batch_id: string }>("/v1/batches", {
    name: "L-77",
    quantity: 30,
    ...place,
  });
  const readings = tenThousandths.map((value, i) => ({
    batch_id,
    feature_id: spigot.feature_id,
    piece: i + 1,
    value: (23.99 + value / 10_000).toFixed(4),
    unit: "mm",
    gauge_id: gauges.micrometer!.gauge_id,
  }));
  await client.post("/v1/readings", readings);
  const path = `/v1/features/${spigot.feature_id}`;
  const chart = await client.get<Sayings>(`${path}/chart?kind=individuals&batch_id=${batch_id}`);
  const capability = await client.get<
    Sayings & { pieces: number; overall: { ppk: { value: number } | null } | null }
  >(`${path}/capability?batch_id=${batch_id}`);
  const picture = await client.download(`${path}/chart?kind=individuals&batch_id=${batch_id}&format=svg`);
  tell.mark("chart", chart.says[0] ?? "");
  tell.mark("index", capability.says[0] ?? "");
  shift.holds(capability.pieces === 30, `thirty pieces have to count, ${capability.pieces} do`);
  shift.holds((capability.overall?.ppk?.value ?? 0) > 1, "thirty good spigots have to come to an index");
  shift.holds(picture.startsWith("<svg"), "the chart has to come as a picture, too");
  tell.say(
    `As a picture for a mail or a report: ${path}/chart?kind=individuals&batch_id=${batch_id}&format=svg`,
  );
}
