import type { Agent } from "supertest";
import { expect } from "vitest";
import { create, gaugeBody, machineBody, toolBody } from "./shop.js";

/** What a shop has told the service before the first piece; sizes in mm unless the machine says otherwise. */
export interface JobSpec {
  machine?: object;
  tool?: object;
  /** The tool's registers; the first one is meant where a test names none. */
  registers?: RegisterSpec[];
  gauge?: object;
  part?: object;
  features: FeatureSpec[];
  batch?: object;
}

export interface RegisterSpec {
  controls: "radial" | "axial" | "x" | "z";
  holds?: "radius" | "diameter";
  sign?: "normal" | "reversed";
  value?: number;
  largest_total?: number;
}

export interface FeatureSpec {
  /** Balloon number; "1" if absent. */
  characteristic?: string;
  kind: "external" | "internal" | "depth" | "height" | "length";
  nominal: number | string;
  lower_limit?: number;
  upper_limit?: number;
  lower_deviation?: number;
  upper_deviation?: number;
  target?: number;
  importance?: "ordinary" | "key" | "critical";
  pattern?: { name: string; order: number; of: number };
  places?: string[];
  operation_limits?: object[];
  /** How the first register moves it; null: the tool alone cuts it. Absent: as two walls, or along the axis. */
  cut?: { walls?: 1 | 2; plus_makes?: "bigger" | "smaller"; effect?: number } | null;
}

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract's schemas by the app under test
export type Answer = any;

let jobs = 0;

/** Machine, tool, gauge, part and batch of one job, as a shop would post them, and what a person then does. */
export async function startJob(api: Agent, spec: JobSpec) {
  jobs += 1;
  const machine = await create(
    api,
    "/v1/machines",
    machineBody({ name: `machine ${jobs}`, largest_change_towards_work: null, ...spec.machine }),
  );
  const registers = (spec.registers ?? []).map((register, i) => ({
    number: i + 1,
    label: `W${i + 1}`,
    value: 0,
    ...register,
  }));
  const tool = await create(
    api,
    "/v1/tools",
    toolBody(machine.machine_id, { nominal_diameter: null, ...spec.tool, registers }),
  );
  const gauge = await create(api, "/v1/gauges", gaugeBody({ name: `gauge ${jobs}`, ...spec.gauge }));
  const registerIds: string[] = tool.registers.map((register: Answer) => register.register_id);
  const part = await create(api, "/v1/parts", {
    number: `P-${jobs}`,
    revision: "A",
    unit: "mm",
    ...spec.part,
    features: spec.features.map(({ cut, ...feature }) => ({
      characteristic: "1",
      gauge_id: gauge.gauge_id,
      cut_by: [
        cut === null || registerIds.length === 0
          ? { tool_id: tool.tool_id }
          : { register_id: registerIds[0], ...(cut ?? defaultCut(spec.registers?.[0]?.controls)) },
      ],
      ...feature,
    })),
  });
  const batch = await create(api, "/v1/batches", {
    name: `B-${jobs}`,
    part_id: part.part_id,
    machine_id: machine.machine_id,
    ...spec.batch,
  });
  const unit = part.unit;
  const batchId: string = batch.batch_id;
  const featureIds = new Map<string, string>(
    part.features.map((feature: Answer) => [feature.characteristic, feature.feature_id]),
  );
  const featureId = (characteristic = "1") => {
    const id = featureIds.get(characteristic);
    if (id === undefined) throw new Error(`no characteristic ${characteristic}`);
    return id;
  };
  const post = async (path: string, body: object, status: number): Promise<Answer> => {
    const response = await api.post(path).send(body);
    expect(response.status, response.text).toBe(status);
    return response.body;
  };
  const get = async (path: string): Promise<Answer> => {
    const response = await api.get(path);
    expect(response.status, response.text).toBe(200);
    return response.body;
  };

  return {
    batchId,
    gaugeId: gauge.gauge_id as string,
    toolId: tool.tool_id as string,
    registerIds,
    featureId,
    post,
    get,
    /** Posts what was measured on a piece: one size, or sizes by balloon number. */
    read(piece: number, sizes: number | Record<string, number>, more: object = {}): Promise<Answer> {
      const list = Object.entries(typeof sizes === "number" ? { "1": sizes } : sizes);
      const body = list.map(([characteristic, value]) => ({
        feature_id: featureId(characteristic),
        batch_id: batchId,
        piece,
        value,
        unit,
        ...more,
      }));
      return post("/v1/readings", body, 201);
    },
    /** The same, once more where the answer asks for it, as a person at the machine would. */
    async readSurely(piece: number, sizes: number | Record<string, number>): Promise<Answer> {
      const first = await this.read(piece, sizes);
      return kindsOf(first).includes("measure_again") ? this.read(piece, sizes) : first;
    },
    apply(correction: Answer, body: object = {}): Promise<Answer> {
      return post(`/v1/corrections/${correction.correction_id}/apply`, body, 200);
    },
    find(correction: Answer, body: object): Promise<Answer> {
      return post(`/v1/corrections/${correction.correction_id}/finding`, body, 200);
    },
    enter(body: object, register = 0): Promise<Answer> {
      const path = `/v1/registers/${registerIds[register]}/entries`;
      return post(path, { batch_id: batchId, ...body }, 201);
    },
    freshEdge(fromPiece: number, reason: string, values: number[]): Promise<Answer> {
      const list = registerIds.map((register_id, r) => ({ register_id, value: values[r] }));
      const body = { batch_id: batchId, from_piece: fromPiece, reason, registers: list };
      return post(`/v1/tools/${tool.tool_id}/edges`, body, 201);
    },
    interrupt(fromPiece: number, kind: string): Promise<Answer> {
      return post(`/v1/batches/${batchId}/interruptions`, { from_piece: fromPiece, kind }, 201);
    },
    checks(piece?: number): Promise<Answer> {
      return get(`/v1/batches/${batchId}/checks${piece === undefined ? "" : `?piece=${piece}`}`);
    },
    interval(characteristic = "1"): Promise<Answer> {
      return get(`/v1/features/${featureId(characteristic)}/interval?batch_id=${batchId}`);
    },
    async wear(register = 0): Promise<Answer> {
      return (await get(`/v1/tools/${tool.tool_id}/wear`)).registers[register];
    },
    async proposed(): Promise<Answer[]> {
      return (await get(`/v1/corrections?status=proposed&batch_id=${batchId}`)).items;
    },
  };
}
export type Job = Awaited<ReturnType<typeof startJob>>;

function defaultCut(controls: RegisterSpec["controls"] | undefined): object {
  return controls === "axial" || controls === "z" ? {} : { walls: 2 };
}

/** Kinds of the advice that stands in an answer; what was only withdrawn by it does not count. */
export function kindsOf(answer: Answer): string[] {
  return answer.corrections
    .filter((correction: Answer) => correction.status !== "superseded" && correction.kind !== "leave_alone")
    .filter((correction: Answer) => correction.status !== "settled")
    .map((correction: Answer) => correction.kind);
}

export function adviceOf(answer: Answer, kind: string): Answer {
  const found = answer.corrections.filter(
    (correction: Answer) =>
      correction.kind === kind && (kind === "leave_alone" || correction.status === "proposed"),
  );
  expect(found, JSON.stringify(answer.corrections, null, 1)).toHaveLength(1);
  return found[0];
}

/**
 * The only change that stands, right in sign and within one least increment or 3 % of what the case says, whichever is
 * larger; the value after it agrees with the value before and the change.
 */
export function expectChange(answer: Answer, change: number, leastIncrement = 0.001): Answer {
  expect(kindsOf(answer), JSON.stringify(answer.corrections, null, 1)).toEqual(["change"]);
  const advice = adviceOf(answer, "change");
  expect(Math.sign(advice.change)).toBe(Math.sign(change));
  const allowed = Math.max(leastIncrement, 0.03 * Math.abs(change));
  expect(Math.abs(advice.change - change)).toBeLessThanOrEqual(allowed * (1 + 1e-9));
  expect(advice.value_after).toBeCloseTo(advice.value_now + advice.change, 9);
  return advice;
}

/** No register is touched, and nothing else is asked. */
export function expectLeftAlone(answer: Answer): Answer {
  expect(kindsOf(answer), JSON.stringify(answer.corrections, null, 1)).toEqual([]);
  const advice = adviceOf(answer, "leave_alone");
  expect(advice.change).toBe(0);
  return advice;
}

/** Changes that suit all features of a correction, from their windows. */
export function overlapOf(correction: Answer): { low: number; high: number } {
  const windows = correction.features.map((feature: Answer) => feature.window);
  return {
    low: Math.max(...windows.map((window: Answer) => window.low)),
    high: Math.min(...windows.map((window: Answer) => window.high)),
  };
}
