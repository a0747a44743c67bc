/** What a text log, a table or a gauge's line can say of a reading. */
export const fieldNames = [
  "characteristic",
  "part_number",
  "revision",
  "batch",
  "piece",
  "serial",
  "cut",
  "seat",
  "place",
  "record",
  "value",
  "dx",
  "dy",
  "dz",
  "size",
  "count",
  "unit",
  "scale",
  "nominal",
  "lower_limit",
  "upper_limit",
  "lower_deviation",
  "upper_deviation",
  "lower_tolerance",
  "tolerance",
  "requirement",
  "result",
  "measured_at",
  "date",
  "time",
  "gauge",
  "taken_by",
  "temperature_c",
  "gauge_temperature_c",
  "tool",
  "channel",
  "note",
] as const;
export type FieldName = (typeof fieldNames)[number] | `offset_${number}`;

const offsetField = /^offset_\d{1,5}$/;
export function isFieldName(name: string): name is FieldName {
  return (fieldNames as readonly string[]).includes(name) || offsetField.test(name);
}

/** What a record says, as the file prints it. */
export type Fields = Partial<Record<FieldName, string>>;
