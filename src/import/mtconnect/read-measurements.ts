import type { Fields } from "../fields.js";
import type { Checkpoint, Found, RecordReader } from "../source-record.js";
import { MtconnectReader } from "./read-document.js";
import type { FeatureMeasurement } from "./streams.js";

/**
 * Features that a machine has measured itself, as it publishes them in an MTConnect stream. They come out at the end of the
 * document, so that a malformed one gives none; it can't be taken up in its middle.
 */
export function readMeasurements(from: Checkpoint | undefined): RecordReader {
  const again = (from?.state as { parser?: FeatureMeasurement } | undefined)?.parser;
  if (again) return readAgain(again);
  const reader = new MtconnectReader();
  let checkpoint: Checkpoint = { offset: 0 };
  let length = 0;
  return {
    read(bytes) {
      length += bytes.length;
      reader.read(bytes);
      return [];
    },
    pause: () => [],
    end() {
      const { measurements } = reader.end();
      checkpoint = { offset: length };
      return measurements.map(toFound);
    },
    checkpoint: () => checkpoint,
  };
}

/** One that was refused, as it was found. */
function readAgain(measurement: FeatureMeasurement): RecordReader {
  const nothing = () => [];
  return {
    read: nothing,
    pause: nothing,
    end: () => [toFound(measurement)],
    checkpoint: () => ({ offset: 0 }),
  };
}

function toFound(measurement: FeatureMeasurement): Found {
  const { line, feature, text, value, unit, status, type, timestamp } = measurement;
  const place = { line, lastLine: line, column: feature, text, parser: measurement };
  const fields: Fields = {
    characteristic: feature,
    ...(value !== undefined && { value }),
    ...(unit !== undefined && { unit }),
    ...(status !== undefined && { result: status }),
    ...(timestamp !== undefined && { measured_at: timestamp }),
    ...(type !== undefined && { note: type }),
  };
  if (feature === "")
    return { kind: "unreadable", line, lastLine: line, text, reason: "names no feature (key)" };
  if (value === undefined) {
    const told = { ...fields, value: "UNAVAILABLE" };
    return { kind: "unmeasured", ...place, fields: told, reason: "its value is unavailable" };
  }
  return { kind: "record", ...place, fields };
}
