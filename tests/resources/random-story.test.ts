import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createTestApp } from "../support/app.js";
import { runningBatch } from "../support/running-batch.js";
import { create } from "../support/shop.js";

const { api, db } = await createTestApp();

// biome-ignore lint/suspicious/noExplicitAny: answers are held to the contract by createTestApp
type Answer = any;

/** Features that the story measures: the part's size is programmed + effect·(register + tool error), without noise. */
const features = [
  { characteristic: "width", kind: "external", nominal: 12, room: 0.03, register: 0, effect: 2 },
  { characteristic: "wall", kind: "external", nominal: 6, room: 0.04, register: 0, effect: 1 },
  { characteristic: "depth", kind: "depth", nominal: 5, room: 0.04, register: 1, effect: -1 },
] as const;
const leastIncrement = 0.001;
const round = (mm: number, places = 4) => Number(mm.toFixed(places)) + 0;

const batchNo = fc.nat({ max: 1 });
const registerNo = fc.nat({ max: 1 });
const micrometres = (most: number) => fc.integer({ min: -most, max: most });
const step = fc.oneof(
  { weight: 10, arbitrary: fc.record({ do: fc.constant("measure" as const), batch: batchNo }) },
  {
    weight: 2,
    arbitrary: fc.record({ do: fc.constant("measure_one" as const), batch: batchNo, of: fc.nat({ max: 2 }) }),
  },
  { weight: 2, arbitrary: fc.record({ do: fc.constant("measure_log" as const), batch: batchNo }) },
  {
    weight: 2,
    arbitrary: fc.record({
      do: fc.constant("cut" as const),
      batch: batchNo,
      pieces: fc.integer({ min: 1, max: 3 }),
      count: fc.boolean(),
    }),
  },
  { weight: 2, arbitrary: fc.record({ do: fc.constant("late" as const), batch: batchNo }) },
  { weight: 6, arbitrary: fc.record({ do: fc.constant("apply" as const) }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant("apply_other" as const), by: micrometres(3) }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant("apply_keyed" as const) }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant("apply_slipped" as const), by: micrometres(4) }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant("look" as const) }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constant("cut_again" as const) }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant("apply_void" as const) }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant("decline" as const) }) },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant("enter" as const),
      batch: batchNo,
      register: registerNo,
      by: micrometres(8),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant("enter_void" as const),
      batch: batchNo,
      register: registerNo,
      by: micrometres(8),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant("edge" as const),
      batch: batchNo,
      errors: fc.tuple(micrometres(8), micrometres(15)),
      zero: fc.boolean(),
    }),
  },
  { weight: 1, arbitrary: fc.record({ do: fc.constant("edge_void" as const), batch: batchNo }) },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant("interrupt" as const),
      batch: batchNo,
      back: fc.nat({ max: 3 }),
      kind: fc.constantFrom("stop", "fixture_change"),
      void: fc.boolean(),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      do: fc.constant("void_reading" as const),
      which: fc.nat({ max: 40 }),
      again: fc.boolean(),
    }),
  },
);
type Step = typeof step extends fc.Arbitrary<infer S> ? S : never;

interface Cut {
  /** True size of every feature. */
  sizes: number[];
  measured: boolean;
}
interface Posted {
  id: string;
  batch: number;
  piece: number;
  cut: number;
  feature: number;
  value: number;
}

/** What the control and the tool really do, kept by hand; everybody tells the truth, but for what is marked as a slip. */
class Story {
  readonly control = [0, 0];
  readonly pieces: Cut[][] = [[], []];
  readonly posted: Posted[] = [];
  /** Registers where history and control differ by a slip that nobody has noticed. */
  readonly slipped = [false, false];
  /** Registers whose change has just been applied as advised: batch whose next piece shows it. */
  readonly applied: (number | undefined)[] = [undefined, undefined];

  constructor(
    readonly shop: Answer,
    readonly batches: Answer[],
    readonly errors: number[],
  ) {}

  size(f: number, control = this.control): number {
    const { nominal, register, effect } = features[f]!;
    return nominal + effect * (control[register]! + this.errors[register]!);
  }

  worst(register: number, control = this.control): number {
    return Math.max(
      ...features.map((feature, f) =>
        feature.register === register ? Math.abs(this.size(f, control) - feature.nominal) / feature.room : 0,
      ),
    );
  }

  registerId(register: number): string {
    return this.shop.tool.registers[register].register_id;
  }

  async send(path: string, body: object, status: number): Promise<Answer> {
    const response = await api.post(path).send(body);
    expect(response.status, `${path} ${JSON.stringify(body)}: ${response.text}`).toBe(status);
    return response.body;
  }

  cutPiece(batch: number): number {
    return this.pieces[batch]!.push({ sizes: features.map((_, f) => this.size(f)), measured: false });
  }

  async read(
    batch: number,
    piece: number,
    which: readonly number[],
    more: object = {},
    cut = 1,
  ): Promise<void> {
    const held = this.pieces[batch]![piece - 1]!;
    const body = which.map((f) => ({
      batch_id: this.batches[batch].batch_id,
      feature_id: this.shop.part.features[f].feature_id,
      piece,
      cut,
      value: round(held.sizes[f]!),
      unit: "mm",
      ...more,
    }));
    const answer = await this.send("/v1/readings", body, 201);
    held.measured = true;
    answer.readings.forEach((reading: Answer, i: number) => {
      this.posted.push({
        id: reading.reading_id,
        batch,
        piece,
        cut,
        feature: which[i]!,
        value: body[i]!.value,
      });
    });
    const asked = answer.corrections.filter(
      (row: Answer) => row.kind === "measure_again" && row.status === "proposed",
    );
    if (cut === 1 && asked.some((row: Answer) => row.piece === piece)) {
      await this.send("/v1/readings", body, 201);
    }
  }

  async open(): Promise<Answer[]> {
    const lists = await Promise.all(
      this.batches.map(({ batch_id }) => api.get(`/v1/corrections?status=proposed&batch_id=${batch_id}`)),
    );
    return lists.flatMap(({ body }) => body.items);
  }

  async change(): Promise<{ row: Answer; register: number; batch: number; next: number } | undefined> {
    const row = (await this.open()).find(({ kind }) => kind === "change");
    if (!row) return undefined;
    const register = row.register_id === this.registerId(0) ? 0 : 1;
    const batch = this.batches.findIndex(({ batch_id }) => batch_id === row.batch_id);
    return { row, register, batch, next: this.pieces[batch]!.length + 1 };
  }

  /** Where the control stands in batches other than the one named: the pieces cut there so far are known to the shop. */
  elsewhere(batch: number): object {
    const other = 1 - batch;
    return {
      also_from: [{ batch_id: this.batches[other].batch_id, from_piece: this.pieces[other]!.length + 1 }],
    };
  }

  async enter(batch: number, register: number, value: number): Promise<Answer> {
    const body = {
      batch_id: this.batches[batch].batch_id,
      from_piece: this.pieces[batch]!.length + 1,
      value,
      ...this.elsewhere(batch),
    };
    return this.send(`/v1/registers/${this.registerId(register)}/entries`, body, 201);
  }

  async play(now: Step): Promise<void> {
    switch (now.do) {
      case "measure": {
        await this.read(now.batch, this.cutPiece(now.batch), [0, 1, 2]);
        this.expectOnTarget(now.batch);
        return;
      }
      case "measure_one":
        return this.read(now.batch, this.cutPiece(now.batch), [now.of]);
      case "measure_log": {
        const cut_with = this.control.map((value, r) => ({
          register_id: this.registerId(r),
          value: round(value, 3),
        }));
        await this.read(now.batch, this.cutPiece(now.batch), [0, 1, 2], { cut_with });
        this.slipped.fill(false);
        return;
      }
      case "cut": {
        for (let i = 0; i < now.pieces; i++) this.cutPiece(now.batch);
        if (!now.count) return;
        const { batch_id } = this.batches[now.batch];
        await this.send(
          `/v1/batches/${batch_id}/count`,
          { last_piece_cut: this.pieces[now.batch]!.length },
          200,
        );
        return;
      }
      case "late": {
        const piece = this.pieces[now.batch]!.findIndex(({ measured }) => !measured) + 1;
        if (piece > 0) await this.read(now.batch, piece, [0, 1, 2]);
        return;
      }
      case "apply":
      case "apply_other":
      case "apply_keyed":
      case "apply_slipped":
      case "apply_void":
        return this.apply(now);
      case "look": {
        const found = await this.change();
        if (!found) return;
        const value_found = round(this.control[found.register]!, 3);
        const keyed = round(found.row.value_after, 3);
        if (value_found === keyed) return;
        const body = { from_piece: found.next, value_found, ...this.elsewhere(found.batch) };
        const { correction } = await this.send(`/v1/corrections/${found.row.correction_id}/apply`, body, 200);
        if (correction.status === "applied") this.control[found.register] = keyed;
        this.slipped[found.register] = false;
        return;
      }
      case "cut_again":
        return this.cutAgain();
      case "decline": {
        const found = await this.change();
        if (found)
          await this.send(`/v1/corrections/${found.row.correction_id}/decline`, { reason: "not now" }, 200);
        return;
      }
      case "enter": {
        this.control[now.register] = round(this.control[now.register]! + now.by / 1000, 3);
        await this.enter(now.batch, now.register, this.control[now.register]!);
        this.slipped[now.register] = false;
        this.applied[now.register] = undefined;
        return;
      }
      case "enter_void": {
        if (this.slipped[now.register]) return;
        const wrong = round(this.control[now.register]! + now.by / 1000, 3);
        const { entry_id } = await this.enter(now.batch, now.register, wrong);
        await this.send(
          `/v1/registers/${this.registerId(now.register)}/entries/${entry_id}/void`,
          { reason: "not keyed" },
          200,
        );
        return;
      }
      case "edge": {
        now.errors.forEach((error, r) => {
          this.errors[r] = error / 1000;
          if (now.zero) this.control[r] = 0;
        });
        await this.edge(now.batch);
        this.slipped.fill(false);
        this.applied.fill(undefined);
        return;
      }
      case "edge_void": {
        if (this.slipped.includes(true)) return;
        const { edge_id } = await this.edge(now.batch);
        const path = `/v1/tools/${this.shop.tool.tool_id}/edges/${edge_id}/void`;
        await this.send(path, { reason: "the other tool" }, 200);
        return;
      }
      case "interrupt": {
        const { batch_id } = this.batches[now.batch];
        const from_piece = Math.max(1, this.pieces[now.batch]!.length + 1 - now.back);
        const path = `/v1/batches/${batch_id}/interruptions`;
        const { interruption_id } = await this.send(path, { from_piece, kind: now.kind }, 201);
        if (now.void) await this.send(`${path}/${interruption_id}/void`, { reason: "another batch" }, 200);
        return;
      }
      case "void_reading": {
        if (this.posted.length === 0) return;
        const [reading] = this.posted.splice(now.which % this.posted.length, 1);
        const { id, batch, piece, cut, feature } = reading!;
        await this.send(`/v1/readings/${id}/void`, { reason: "typed wrongly" }, 200);
        if (now.again && cut === 1) await this.read(batch, piece, [feature]);
        return;
      }
    }
  }

  async edge(batch: number): Promise<Answer> {
    const body = {
      batch_id: this.batches[batch].batch_id,
      from_piece: this.pieces[batch]!.length + 1,
      reason: "worn",
      registers: this.control.map((value, r) => ({ register_id: this.registerId(r), value })),
      ...this.elsewhere(batch),
    };
    return this.send(`/v1/tools/${this.shop.tool.tool_id}/edges`, body, 201);
  }

  async apply(now: {
    do: "apply" | "apply_other" | "apply_keyed" | "apply_slipped" | "apply_void";
    by?: number;
  }) {
    const found = await this.change();
    if (!found) return;
    const { row, register, batch, next } = found;
    const path = `/v1/corrections/${row.correction_id}`;
    const before = this.control[register]!;
    const about = { from_piece: next, ...this.elsewhere(batch) };
    // A person adds the change at the control; where history is right that is the value advised.
    const after = round(before + row.change, 3);
    this.applied[register] = undefined;
    switch (now.do) {
      case "apply":
        await this.send(`${path}/apply`, about, 200);
        this.control[register] = after;
        if (!this.slipped[register]) this.applied[register] = batch;
        return;
      case "apply_other": {
        const value_after = round(row.value_after + now.by! / 1000, 3);
        await this.send(`${path}/apply`, { ...about, value_after }, 200);
        this.control[register] = value_after;
        this.slipped[register] = false;
        return;
      }
      case "apply_keyed":
        if (this.slipped[register]) return;
        this.control[register] = after;
        await this.send(`${path}/apply`, { ...about, value_found: after }, 200);
        return;
      case "apply_slipped":
        await this.send(`${path}/apply`, about, 200);
        this.control[register] = round(after + now.by! / 1000, 3);
        this.slipped[register] ||= now.by !== 0;
        return;
      case "apply_void":
        if (this.slipped[register]) return;
        await this.send(`${path}/apply`, about, 200);
        await this.send(`${path}/void`, { reason: "not keyed after all" }, 200);
        return;
    }
  }

  /** The last piece of the batch is cut again with the new value, where that takes metal off. */
  async cutAgain(): Promise<void> {
    const found = await this.change();
    if (!found || found.next === 1) return;
    const { row, register, batch, next } = found;
    const held = this.pieces[batch]![next - 2]!;
    if (this.slipped[register] || !held.measured) return;
    const about = { from_piece: next - 1, from_cut: 2, ...this.elsewhere(batch) };
    const applied = await api.post(`/v1/corrections/${row.correction_id}/apply`).send(about);
    if (applied.status === 409) return; // somebody has announced another value for the next piece
    expect(applied.status, applied.text).toBe(200);
    this.control[register] = round(row.value_after, 3);
    held.sizes = held.sizes.map((size, f) => {
      const again = this.size(f);
      return features[f]!.kind === "depth" ? Math.max(size, again) : Math.min(size, again);
    });
    const moved = [0, 1, 2].filter((f) => features[f]!.register === register);
    await this.read(batch, next - 1, moved, {}, 2);
  }

  expectOnTarget(batch: number): void {
    for (const [register, where] of this.applied.entries()) {
      if (where !== batch) continue;
      expect(this.worst(register), `after an applied change of register ${register}`).toBeLessThan(0.5);
      this.applied[register] = undefined;
    }
  }

  /** Of every change proposed: one per register, from the value that the control holds, and no step away from the target. */
  async expectSoundAdvice(): Promise<void> {
    const changes = (await this.open()).filter(({ kind }) => kind === "change");
    for (const register of [0, 1]) {
      const mine = changes.filter(({ register_id }) => register_id === this.registerId(register));
      expect(mine.length).toBeLessThanOrEqual(1);
      const [row] = mine;
      if (!row) continue;
      expect(row.value_after).toBeCloseTo(row.value_now + row.change, 9);
      if (!this.slipped[register]) expect(row.value_now).toBeCloseTo(this.control[register]!, 9);
      const moved = this.control.map((value, r) => (r === register ? value + row.change : value));
      const slack = Math.max(
        ...features.map(({ effect, room }) => (Math.abs(effect) * leastIncrement) / room),
      );
      expect(this.worst(register, moved), JSON.stringify(row)).toBeLessThanOrEqual(
        this.worst(register) + slack,
      );
    }
  }

  async expectHistoryAddsUp(): Promise<void> {
    const { body } = await api.get(`/v1/tools/${this.shop.tool.tool_id}/wear`);
    body.registers.forEach((register: Answer, r: number) => {
      const sum = register.entries.reduce((total: number, { change }: Answer) => total + change, 0);
      if (register.entries.length < 100) expect(sum).toBeCloseTo(register.value_now, 9);
      if (!this.slipped[r]) expect(register.value_now).toBeCloseTo(this.control[r]!, 9);
    });
  }

  async states(): Promise<unknown[]> {
    const ids = this.batches.map(({ batch_id }) => batch_id);
    const rows = await db
      .selectFrom("block_state")
      .selectAll()
      .where("batch_id", "in", ids)
      .orderBy("batch_id")
      .execute();
    // A batch in which nothing was measured may have a state or none.
    return rows.map((row) => JSON.parse(row.state)).filter((state) => state.piece > 0);
  }

  async expectSameAfterRebuild(): Promise<void> {
    const before = await this.states();
    const ids = this.batches.map(({ batch_id }) => batch_id);
    await db.deleteFrom("block_state").where("batch_id", "in", ids).execute();
    await db.deleteFrom("block_checkpoint").where("batch_id", "in", ids).execute();
    const { feature_id } = this.shop.part.features[0];
    expect((await api.patch(`/v1/features/${feature_id}`).send({ target: 12 })).status).toBe(200);
    expect((await this.states()).map(withoutOrder)).toEqual(before.map(withoutOrder));
  }
}

/**
 * The order in which the readings of one piece lie in memory says nothing, and what was due on the last piece is only kept
 * as closely as words need it.
 */
function withoutOrder({ countedBefore, ...state }: Answer) {
  return {
    ...state,
    readings: [...state.readings].sort((a: Answer, b: Answer) => a.readingNo - b.readingNo),
  };
}

let stories = 0;

async function beginStory(errors: number[]): Promise<Story> {
  const shop = await runningBatch(api, {
    features: features.map(({ characteristic, kind, nominal, room, register }) => ({
      characteristic,
      kind,
      nominal: String(nominal),
      lower_deviation: -room,
      upper_deviation: room,
      cut_by: [
        register === 0
          ? { register: "radial", walls: characteristic === "width" ? 2 : 1 }
          : { register: "axial" },
      ],
    })),
  });
  const second = await create(api, "/v1/batches", {
    name: `story-${++stories}`,
    part_id: shop.part.part_id,
    machine_id: shop.machine.machine_id,
  });
  return new Story(shop, [shop.batch, second], errors);
}

describe("any story that a shop can tell", () => {
  it("never makes the service correct twice, correct away from the target, or lose count", async () => {
    const errors = fc.tuple(micrometres(12), micrometres(30));
    await fc.assert(
      fc.asyncProperty(errors, fc.array(step, { minLength: 12, maxLength: 40 }), async (start, steps) => {
        const story = await beginStory(start.map((um) => um / 1000));
        for (const now of steps) {
          await story.play(now);
          await story.expectSoundAdvice();
        }
        await story.expectHistoryAddsUp();
        await story.expectSameAfterRebuild();
      }),
      { numRuns: 16 },
    );
  }, 60_000);
});
