const special = /["\\]/;

/**
 * Values as the text of a Postgres array, for `unnest` of many rows. Where all of them are null the array is empty: `unnest`
 * fills the columns of a row up with nulls as long as one of its arrays goes on, and most columns of most readings are.
 */
export function arrayText(values: readonly (string | number | boolean | null | undefined)[]): string {
  let text = "";
  let isEmpty = true;
  for (const value of values) {
    if (text !== "") text += ",";
    if (value === null || value === undefined) text += "NULL";
    else {
      isEmpty = false;
      if (typeof value !== "string") text += value;
      else text += special.test(value) ? `"${value.replace(/["\\]/g, "\\$&")}"` : `"${value}"`;
    }
  }
  return isEmpty ? "{}" : `{${text}}`;
}
