/** The service as an ordinary client sees it: only what this program reads of its answers. */

export interface NextStep {
  action: "run_on" | "measure" | "set_offset" | "stop";
  piece: number;
  why: string;
}

export interface Reading {
  reading_id: string;
  feature_id: string;
  characteristic: string;
  piece: number;
  cut: number;
  value: number;
  unit: string;
  size: number;
  size_unit: string;
  verdict: "conforming" | "nonconforming" | "uncertain";
  disposition: "accept" | "rework" | "scrap" | "remeasure";
  from_target: number;
  lower_limit: number | null;
  upper_limit: number | null;
  flags: string[];
  slip: string | null;
}

export interface Correction {
  correction_id: string | null;
  status: string;
  kind: string;
  register_label: string | null;
  unit: string;
  value_now: number | null;
  change: number;
  value_after: number | null;
  features: { feature_id: string; expected_before: number; expected_after: number; unit: string }[];
  why: string;
  arithmetic: string[];
  cautions: string[];
  line: string | null;
}

export interface CheckPlan {
  piece: number;
  features: { feature_id: string; why: string }[];
  left_out: { feature_id: string; why: string }[];
  next_pieces: number[];
}

export interface ReadingsAnswer {
  next: NextStep;
  readings: Reading[];
  corrections: Correction[];
}

export interface EntryAnswer {
  value_before: number;
  value: number;
  unit: string;
  from_piece: number;
  warnings: string[];
  next: NextStep;
}

export interface Wear {
  edge: { number: number; reason: string; pieces_cut: number };
  registers: {
    label: string;
    unit: string;
    value_now: number;
    cumulative_change: number;
    wear_rate_per_piece: number | null;
    pieces_to_limit: number | null;
    proposed_start: number | null;
    safe_start: number | null;
  }[];
}

export class Client {
  constructor(
    readonly address: string,
    private readonly options: { key?: string | undefined; signal?: AbortSignal | undefined } = {},
  ) {}

  get<Answer>(path: string): Promise<Answer> {
    return this.send("GET", path);
  }

  post<Answer>(path: string, body: object): Promise<Answer> {
    return this.send("POST", path, JSON.stringify(body));
  }

  put<Answer>(path: string, body: object): Promise<Answer> {
    return this.send("PUT", path, JSON.stringify(body));
  }

  /** A document as it is. */
  download(path: string): Promise<string> {
    return this.fetch("GET", path);
  }

  /** Sends a file as it is. */
  upload<Answer>(path: string, file: string): Promise<Answer> {
    return this.send("POST", path, file, "application/octet-stream");
  }

  private async send<Answer>(method: string, path: string, body?: string, type?: string): Promise<Answer> {
    return JSON.parse(await this.fetch(method, path, body, type)) as Answer;
  }

  /** @throws {Error} in the service's own words where it refuses */
  private async fetch(
    method: string,
    path: string,
    body?: string,
    type = "application/json",
  ): Promise<string> {
    const { key, signal } = this.options;
    const response = await fetch(this.address + path, {
      method,
      headers: {
        ...(body === undefined ? {} : { "content-type": type }),
        ...(key === undefined ? {} : { authorization: `Bearer ${key}` }),
      },
      ...(body === undefined ? {} : { body }),
      ...(signal === undefined ? {} : { signal }),
    });
    const text = await response.text();
    if (response.ok) return text;
    throw new Error(`the service refused ${method} ${path} with ${response.status}: ${text}`);
  }
}
