import { z } from "zod";
import type { ReadReading, Said } from "./interpret-record.js";

const text = (description: string) => z.string().nullable().describe(description);
const unit = z.enum(["mm", "µm", "nm", "inch", "µin", "deg", "arcmin", "arcsec", "rad"]);

/** What a file says of a reading beside its value, as answers show it. */
export const SaidByFile = z
  .strictObject({
    value: z.string().describe("The value as it was printed"),
    nominal: text("Nominal size"),
    lower_limit: text("Lower limit of size"),
    upper_limit: text("Upper limit of size"),
    unit: unit.nullable().describe("Unit of these three; null: none of them is said"),
    within: z
      .boolean()
      .nullable()
      .describe(
        "Whether the value is inside these limits, a value on a limit being so; null: no limit is said",
      ),
    result: z
      .enum(["pass", "fail"])
      .nullable()
      .describe("The file's own verdict; null: none, or one that the layout does not translate"),
    result_text: text("The same in its own words"),
    measured_at: text("When, as it was printed"),
    tool: text("Tool"),
    channel: text("Channel of the gauge's interface"),
    record: text("Its own number of the reading"),
    note: text("Its remark"),
    notes: z.array(z.string()).describe("What was done to the text, and what of the above can't be read"),
  })
  .meta({ id: "SaidByFile", description: "What a file says of a reading; nothing of it decides" });

export function showSaid(said: Said): z.infer<typeof SaidByFile> {
  const { value, nominal, lower_limit, upper_limit, within, result, result_text, measured_at } = said;
  const { tool, channel, record, note, notes = [] } = said;
  return {
    value,
    nominal: nominal ?? null,
    lower_limit: lower_limit ?? null,
    upper_limit: upper_limit ?? null,
    unit: said.unit ?? null,
    within: within ?? null,
    result: result ?? null,
    result_text: result_text ?? null,
    measured_at: measured_at ?? null,
    tool: tool ?? null,
    channel: channel ?? null,
    record: record ?? null,
    note: note ?? null,
    notes,
  };
}

/** A reading as a layout understands it, before anybody has looked up what it names. */
export const UnderstoodReading = z
  .strictObject({
    characteristic: text("Characteristic, translated"),
    part_number: text("Part number"),
    revision: text("Revision"),
    batch: text("Batch"),
    piece: z.number().int().nullable().describe("Piece; null: worked out from the batch, or counted"),
    serial: text("Serial number of the piece"),
    cut: z.number().int().nullable().describe("Cut"),
    seat: text("Seat"),
    place: text("Place on the feature"),
    value: text("The value; null: it says something else"),
    unit: unit.nullable().describe("Its unit, or that of the offsets"),
    dx: text("Of a position: offset from the true position along x"),
    dy: text("Along y"),
    dz: text("Along z"),
    size: text("Size of the feature that earns the position a bonus"),
    result: z
      .enum(["pass", "fail", "go_refuses", "no_go_enters"])
      .nullable()
      .describe("Of what passes or fails"),
    count: z.number().int().nullable().describe("Of what is counted"),
    gauge: text("Gauge"),
    measured_at: text("When, in UTC"),
    taken_by: text("Who took it"),
    temperature_c: text("How warm the part was, °C"),
    gauge_temperature_c: text("How warm the gauge was, °C"),
    cut_with: z
      .array(
        z.strictObject({
          register_number: z.number().int().describe("Register at the control"),
          value: z.string().describe("What it held"),
        }),
      )
      .describe("Offsets in force"),
  })
  .meta({ id: "UnderstoodReading", description: "A reading as a layout understands it" });

export function showUnderstood(reading: ReadReading): z.infer<typeof UnderstoodReading> {
  const { characteristic, part_number, revision, batch, piece, serial, cut, seat, place, dx, dy } = reading;
  const { dz, size, result, count } = reading;
  const { gauge, measured_at, taken_by, temperature_c, gauge_temperature_c } = reading;
  return {
    characteristic: characteristic ?? null,
    part_number: part_number ?? null,
    revision: revision ?? null,
    batch: batch ?? null,
    piece: piece ?? null,
    serial: serial ?? null,
    cut: cut ?? null,
    seat: seat ?? null,
    place: place ?? null,
    value: reading.value ?? null,
    unit: reading.unit ?? null,
    dx: dx ?? null,
    dy: dy ?? null,
    dz: dz ?? null,
    size: size ?? null,
    result: result ?? null,
    count: count ?? null,
    gauge: gauge ?? null,
    measured_at: measured_at ?? null,
    taken_by: taken_by ?? null,
    temperature_c: temperature_c ?? null,
    gauge_temperature_c: gauge_temperature_c ?? null,
    cut_with: reading.cut_with ?? [],
  };
}
