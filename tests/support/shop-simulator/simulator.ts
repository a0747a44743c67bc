import { gauss, roundTo, uniform } from "./random.js";
import type { Scenario, ScenarioFeature, ScenarioGauge, ScenarioRegister, ScenarioTool } from "./scenario.js";

interface ToolState {
  def: ScenarioTool;
  edgeNo: number;
  /** Pieces that the edge has cut. */
  age: number;
  setup: Record<string, number>;
  chip: Record<string, number>;
  chipped: boolean;
  chipAge: number;
  chipAt: number;
  rate: number;
  life: number;
  breakIn: number;
}

interface PieceState {
  sizes: Record<string, number>;
  bad: boolean;
  badFeatures: string[];
  firstOfEdge: boolean;
  caught: boolean;
  readings: { featureId: string; y: number }[];
  cut: number;
}

/** What everybody in the shop may know, and with them a service. */
export interface Facts {
  features: {
    id: string;
    nominal: number;
    lower?: number;
    upper?: number;
    target?: number;
    gauge: string;
    gauges?: string[];
    sensitivities: Record<string, number>;
    seatSensitivities?: Record<string, number>;
    metal?: number;
    part?: string;
  }[];
  registers: { id: string; tool: string; leastIncrement: number; value: number }[];
  tools: { id: string; plannedLife: number }[];
  gauges: Record<
    string,
    { resolution: number; repeatability?: number; reference?: boolean; uncertainty?: number }
  >;
  seats?: { count: number; registers: { id: string; leastIncrement: number }[] };
  unsurePiece?: { m: number };
  batches?: { fromPiece: number; part: string }[];
  recut?: boolean;
  pieces: number;
  readingDelay: number;
}

export type Score = ReturnType<ShopSimulator["score"]>;

/**
 * One machine, one scenario, one seed. The true size of feature f on piece k is
 *   nominal + bias_f + Σ sensitivity·(register_r + e_r) + fixture_f + growth_f·wear fraction + noise,
 *   e_r = setup mean_r + setup error_r(edge) + gain_r·wear(age) + chip_r + thermal_r + ambient_r,
 *   wear(n) = breakIn·(1 − exp(−n / breakInPieces)) + rate·n + an accelerating part after 80 % of the edge's own life.
 * A worn tool acts on the part exactly as a larger register would. It knows nothing of the service.
 */
export class ShopSimulator {
  pieceNo = 0;
  readonly pieces = new Map<number, PieceState>();
  private readonly features: Map<string, ScenarioFeature>;
  private readonly registers: Map<string, { def: ScenarioRegister; value: number; keyed: number }>;
  private readonly tools = new Map<string, ToolState>();
  private theta = 0;
  private fixture: Record<string, number> = {};
  private fixtureActive = false;
  private readonly setupMean: Record<string, number> = {};
  private readonly bias: Record<string, number> = {};
  private readonly seatBias: Record<string, number[]> = {};
  private readonly seatRegisters: Map<string, { leastIncrement: number; values: number[] }>;
  private readonly partShift: Record<string, Record<string, number>> = {};
  private readonly repeat = new Map<string, number>();
  private readonly counts: {
    measurements: number;
    remeasurements: number;
    corrections: number;
    falseCorrections: number;
    inspections: number;
    falseInspections: number;
    edges: number;
    recuts?: number;
    reference?: number;
    seatCorrections?: number;
  };
  private deviationSum = 0;
  private deviationCount = 0;
  private readonly seed: number;

  constructor(
    private readonly scenario: Scenario,
    seed = 1,
  ) {
    this.seed = seed >>> 0;
    this.features = new Map(scenario.features.map((f) => [f.id, f]));
    this.registers = new Map(
      scenario.registers.map((r) => [r.id, { def: r, value: r.initial ?? 0, keyed: r.initial ?? 0 }]),
    );
    for (const def of scenario.tools) {
      this.tools.set(def.id, { def, edgeNo: 0 } as ToolState);
      this.newEdge(def.id);
    }
    for (const r of scenario.registers)
      this.setupMean[r.id] = (r.setupMeanSd ?? 0) * gauss(this.seed, "setupMean", r.id);
    for (const f of scenario.features)
      this.bias[f.id] = (f.bias ?? 0) + (f.biasSd ?? 0) * gauss(this.seed, "bias", f.id);
    for (const { id, seatSd } of scenario.features) {
      if (!seatSd) continue;
      this.seatBias[id] = Array.from(
        { length: scenario.seats!.count },
        (_, i) => seatSd * gauss(this.seed, "seat", id, i + 1),
      );
    }
    this.seatRegisters = new Map(
      (scenario.seats?.registers ?? []).map((r) => [
        r.id,
        { leastIncrement: r.leastIncrement ?? 0.001, values: new Array(scenario.seats!.count).fill(0) },
      ]),
    );
    for (const { part, partShiftSd } of scenario.batches ?? []) {
      this.partShift[part] ??= {};
      for (const [r, sd] of Object.entries(partShiftSd ?? {}))
        this.partShift[part][r] = sd * gauss(this.seed, "part", part, r);
    }
    this.counts = {
      measurements: 0,
      remeasurements: 0,
      corrections: 0,
      falseCorrections: 0,
      inspections: 0,
      falseInspections: 0,
      edges: this.tools.size,
    };
  }

  facts(): Facts {
    const s = this.scenario;
    return {
      features: s.features.map((f) => ({
        id: f.id,
        nominal: f.nominal,
        ...(f.lower !== undefined && { lower: f.lower }),
        ...(f.upper !== undefined && { upper: f.upper }),
        gauge: f.gauge,
        sensitivities: { ...f.sensitivities },
        ...(f.target != null && { target: f.target }),
        ...(f.metal && { metal: f.metal }),
        ...(f.part && { part: f.part }),
        ...(f.gauges && { gauges: [...f.gauges] }),
        ...(f.seatSensitivities && { seatSensitivities: { ...f.seatSensitivities } }),
      })),
      registers: s.registers.map((r) => ({
        id: r.id,
        tool: r.tool,
        leastIncrement: r.leastIncrement ?? 0.001,
        value: r.initial ?? 0,
      })),
      tools: s.tools.map((t) => ({ id: t.id, plannedLife: t.plannedLife })),
      gauges: Object.fromEntries(
        Object.entries(s.gauges).map(([id, g]) => [
          id,
          {
            resolution: g.resolution,
            ...(g.repeatability !== undefined && { repeatability: g.repeatability }),
            ...(g.reference && { reference: true }),
            ...(g.uncertainty != null && { uncertainty: g.uncertainty }),
          },
        ]),
      ),
      ...(s.seats && {
        seats: {
          count: s.seats.count,
          registers: (s.seats.registers ?? []).map((r) => ({
            id: r.id,
            leastIncrement: r.leastIncrement ?? 0.001,
          })),
        },
      }),
      ...(s.unsurePiece && { unsurePiece: { ...s.unsurePiece } }),
      ...(s.batches && { batches: s.batches.map((b) => ({ fromPiece: b.fromPiece, part: b.part })) }),
      ...(s.recut && { recut: true }),
      pieces: s.pieces,
      readingDelay: s.readingDelay?.max ?? 0,
    };
  }

  private newEdge(toolId: string): void {
    const t = this.tools.get(toolId)!;
    t.edgeNo += 1;
    const n = t.edgeNo;
    const d = t.def;
    const w = d.wear ?? {};
    t.age = 0;
    t.setup = {};
    t.chip = {};
    t.chipped = false;
    for (const r of this.scenario.registers.filter((r) => r.tool === toolId))
      t.setup[r.id] = (r.setupSd ?? 0) * gauss(this.seed, "setup", toolId, r.id, n);
    t.rate = (w.rate ?? 0) * Math.exp((w.rateCv ?? 0.2) * gauss(this.seed, "rate", toolId, n));
    t.life = (d.life ?? 1e9) * Math.exp((d.lifeCv ?? 0.12) * gauss(this.seed, "life", toolId, n));
    t.breakIn = (w.breakIn ?? 0) * Math.exp(0.25 * gauss(this.seed, "bi", toolId, n));
    t.chipAt = Number.POSITIVE_INFINITY;
    if (d.chip) t.chipAt = Math.ceil(-Math.log(uniform(this.seed, "chip", toolId, n)) / d.chip.perPiece);
  }

  private wear(t: ToolState): number {
    const w = t.def.wear ?? {};
    const n = t.age;
    let x = t.breakIn * (1 - Math.exp(-n / (w.breakInPieces ?? 5))) + t.rate * n;
    const late = 0.8 * t.life;
    if (n > late) x += (t.rate * (w.acceleration ?? 4) * (n - late) ** 2) / (0.4 * t.life);
    if (t.chipped) x += t.rate * 2 * (n - t.chipAge); // a chipped edge wears three times as fast
    return x;
  }

  private registerError(r: ScenarioRegister): number {
    const t = this.tools.get(r.tool)!;
    const { thermal, ambient, batches } = this.scenario;
    let e =
      this.setupMean[r.id]! + (t.setup[r.id] ?? 0) + (r.wearGain ?? 1) * this.wear(t) + (t.chip[r.id] ?? 0);
    if (thermal) e += (thermal.amplitude?.[r.id] ?? 0) * this.theta;
    if (batches) e += this.partShift[this.partOf(Math.max(1, this.pieceNo))!]![r.id] ?? 0;
    if (ambient) {
      const phase = this.pieceNo / ambient.period + uniform(this.seed, "amb");
      e += (ambient.amplitude?.[r.id] ?? 0) * Math.sin(2 * Math.PI * phase);
    }
    return e;
  }

  seatOf(piece: number): number | undefined {
    const n = this.scenario.seats?.count;
    return n ? ((piece - 1) % n) + 1 : undefined;
  }

  partOf(piece: number): string | undefined {
    let part: string | undefined;
    for (const b of this.scenario.batches ?? []) if (b.fromPiece <= piece) part = b.part;
    return part;
  }

  /** Features that a piece has: all, unless the scenario has several parts. */
  featuresOf(piece: number): ScenarioFeature[] {
    const part = this.partOf(piece);
    return part ? this.scenario.features.filter((f) => f.part === part) : this.scenario.features;
  }

  /** The piece that is really taken out of the chute when the person believes it is `piece`. */
  takenOut(piece: number): number {
    const u = this.scenario.unsurePiece;
    if (!u) return piece;
    let first = 1;
    for (const b of this.scenario.batches ?? []) if (b.fromPiece <= piece) first = b.fromPiece;
    return Math.max(first, piece - Math.floor(u.m * uniform(this.seed, "chute", piece)));
  }

  private side(f: ScenarioFeature, x: number): number {
    const { upper, lower } = f;
    const c = f.target ?? (upper! + lower!) / 2;
    const above = upper != null ? upper - c : c - lower!;
    const below = lower != null ? c - lower : upper! - c;
    return (x - c) / (x >= c ? above : below);
  }

  private isOut({ upper, lower }: ScenarioFeature, x: number): boolean {
    return (upper != null && x > upper) || (lower != null && x < lower);
  }

  /** Expected size of every feature of the piece that would be cut in the present state, without noise: for scoring only. */
  trueMeans(seat = this.seatOf(Math.max(1, this.pieceNo))): Record<string, number> {
    const errors: Record<string, number> = {};
    for (const r of this.scenario.registers) errors[r.id] = this.registerError(r);
    const means: Record<string, number> = {};
    for (const f of this.scenario.features) {
      let x = f.nominal + this.bias[f.id]! + (this.fixture[f.id] ?? 0);
      for (const [rid, s] of Object.entries(f.sensitivities))
        x += s * (this.registers.get(rid)!.value + errors[rid]!);
      if (seat) {
        x += (this.seatBias[f.id]?.[seat - 1] ?? 0) + (this.fixture[`${f.id}@${seat}`] ?? 0);
        for (const [rid, q] of Object.entries(f.seatSensitivities ?? {}))
          x += q * this.seatRegisters.get(rid)!.values[seat - 1]!;
      }
      if (f.growth && f.growthTool) {
        const t = this.tools.get(f.growthTool)!;
        x += f.growth * Math.min(1.6, t.age / t.life);
      }
      means[f.id] = x;
    }
    return means;
  }

  /** How much less a fresh edge is expected to move a register's features than the present one: for scoring only. */
  freshEdgeGain(registerId: string): number {
    const { def } = this.registers.get(registerId)!;
    const t = this.tools.get(def.tool)!;
    return (t.setup[def.id] ?? 0) + (def.wearGain ?? 1) * this.wear(t) + (t.chip[def.id] ?? 0);
  }

  /** What a look at the setup would find and put right: for scoring only. */
  hasFault(): boolean {
    return this.faults().length > 0;
  }

  private faults(): string[] {
    const found: string[] = [];
    if (this.fixtureActive) found.push("fixture");
    for (const { value, keyed } of this.registers.values())
      if (Math.abs(value - keyed) > 1e-9) found.push("register");
    for (const t of this.tools.values())
      if (t.chipped || t.age > 0.95 * t.life) found.push(`edge:${t.def.id}`);
    return found;
  }

  /** True when the machine stands before a piece (break, night): everybody in the shop knows it. */
  idleBefore(pieceNo: number): boolean {
    return (this.scenario.thermal?.breaks ?? []).some((b) => b.before === pieceNo);
  }

  /** Cuts the next piece under the registers now in force; its sizes stay hidden. */
  makePiece(): void {
    const s = this.scenario;
    this.pieceNo += 1;
    const k = this.pieceNo;
    if (s.thermal) {
      const pause = (s.thermal.breaks ?? []).find((b) => b.before === k);
      if (pause) this.theta *= pause.keep ?? 0;
      this.theta += (1 - this.theta) / (s.thermal.tau ?? 15);
    }
    let firstOfEdge = false;
    for (const t of this.tools.values()) {
      if (t.age === 0) firstOfEdge = true;
      t.age += 1;
      if (t.chipped || t.age < t.chipAt) continue;
      t.chipped = true;
      t.chipAge = t.age;
      for (const [rid, size] of Object.entries(t.def.chip!.size))
        t.chip[rid] = size * (0.7 + 0.6 * uniform(this.seed, "chipsize", t.def.id, rid, t.edgeNo));
    }
    for (const event of s.fixtureShifts ?? []) {
      if (event.piece !== k) continue;
      this.fixtureActive = true;
      this.fixture = { ...this.fixture, ...event.shift };
    }
    const means = this.trueMeans();
    const sizes: Record<string, number> = {};
    const badFeatures: string[] = [];
    const odd = s.oddPiece && uniform(this.seed, "odd", k) < s.oddPiece.probability;
    for (const f of this.featuresOf(k)) {
      let x = means[f.id]! + f.noise * this.roughness(f) * gauss(this.seed, "noise", k, f.id);
      if (odd) {
        const sign = uniform(this.seed, "oddsign", k) < 0.5 ? -1 : 1;
        x += s.oddPiece!.size * sign * (f.oddGain ?? 1);
      }
      sizes[f.id] = x;
      if (this.isOut(f, x)) badFeatures.push(f.id);
      this.deviationSum += Math.abs(this.shareOf(f, x));
      this.deviationCount += 1;
    }
    const bad = badFeatures.length > 0;
    this.pieces.set(k, { sizes, bad, badFeatures, firstOfEdge, caught: false, readings: [], cut: 1 });
  }

  /** A chipped edge scatters more. */
  private roughness(f: ScenarioFeature): number {
    const touched = (id: string) =>
      Object.keys(f.sensitivities).some((r) => this.registers.get(r)!.def.tool === id);
    return [...this.tools.values()].some((t) => t.chipped && touched(t.def.id)) ? 1.5 : 1;
  }

  private shareOf(f: ScenarioFeature, x: number): number {
    if (f.target != null) return this.side(f, x);
    const T = (f.upper! - f.lower!) / 2;
    const c = (f.upper! + f.lower!) / 2;
    return (x - c) / T;
  }

  /**
   * Cuts the last piece once more under the registers now in force, while it is still clamped. Only metal that is left comes
   * off; the spring pass takes a little more.
   */
  recut(): void {
    const k = this.pieceNo;
    const p = this.pieces.get(k)!;
    const means = this.trueMeans();
    p.cut += 1;
    this.counts.recuts = (this.counts.recuts ?? 0) + 1;
    p.badFeatures = [];
    p.caught = false;
    for (const f of this.featuresOf(k)) {
      const metal = f.metal ?? 1;
      const spring = metal * (f.spring ?? 0);
      const y = means[f.id]! - spring + 0.7 * f.noise * gauss(this.seed, "recut", k, f.id, p.cut);
      const size = metal * Math.min(metal * p.sizes[f.id]!, metal * y);
      p.sizes[f.id] = size;
      if (this.isOut(f, size)) p.badFeatures.push(f.id);
    }
    p.bad = p.badFeatures.length > 0;
  }

  /** Pieces after which a reading of this piece reaches the person who corrects. */
  delayOf(piece: number): number {
    const d = this.scenario.readingDelay;
    if (!d) return 0;
    const least = d.min ?? d.max;
    return Math.floor(least + uniform(this.seed, "delay", piece) * (d.max - least + 0.999));
  }

  private gaugeBias(g: ScenarioGauge, id: string, featureId: string, piece: number): number {
    let b = g.bias ?? 0;
    if (g.biasSd) b += g.biasSd * gauss(this.seed, "gaugeBias", id, featureId);
    if (g.driftPerPiece) b += g.driftPerPiece * piece;
    if (g.driftSd) b += (g.driftSd * gauss(this.seed, "gaugeDrift", id, featureId) * piece) / 100;
    if (g.jump && piece >= g.jump.piece) b += g.jump.size;
    return b;
  }

  markCaught(piece: number): void {
    this.pieces.get(piece)!.caught = true;
  }

  /** Measures one feature of a piece that has been cut, with its own gauge unless another is named. */
  measure(
    featureId: string,
    { piece = this.pieceNo, gauge }: { piece?: number; gauge?: string | undefined } = {},
  ): { gauge: string; reading: number } {
    const f = this.features.get(featureId);
    const p = this.pieces.get(piece);
    if (!f || !p) throw new RangeError(`no such feature or piece: ${featureId} ${piece}`);
    const id = gauge ?? f.gauge;
    const g = this.scenario.gauges[id]!;
    const key = f.gauges ? `${piece}|${featureId}|${id}` : `${piece}|${featureId}`;
    const repeat = (this.repeat.get(key) ?? 0) + 1;
    this.repeat.set(key, repeat);
    this.counts.measurements += 1;
    if (repeat > 1) this.counts.remeasurements += 1;
    let y =
      p.sizes[featureId]! +
      this.gaugeBias(g, id, featureId, piece) +
      (g.repeatability ?? 0) * gauss(this.seed, "gauge", id, piece, featureId, repeat);
    y = roundTo(y, g.resolution);
    const gross = g.grossProbability;
    if (gross && uniform(this.seed, "gross", id, piece, featureId, repeat) < gross)
      y = this.misread(y, g, piece, featureId, repeat);
    p.readings.push({ featureId, y });
    if (f.gauges && g.reference) this.counts.reference = (this.counts.reference ?? 0) + 1;
    // A biased gauge beside a reference says nothing by itself: there the policy gives the verdict.
    if (this.isOut(f, y) && (!f.gauges || g.reference)) p.caught = true;
    return { gauge: id, reading: y };
  }

  private misread(y: number, g: ScenarioGauge, piece: number, featureId: string, repeat: number): number {
    const u = uniform(this.seed, "grosskind", piece, featureId, repeat);
    if (u < 0.2) return roundTo(y * 10, g.resolution); // decimal point slipped
    if (u < 0.35) return roundTo(y / 25.4, g.resolution); // inch typed as millimetre
    if (u < 0.5) {
      const turn = uniform(this.seed, "half", piece, repeat) < 0.5 ? 0.5 : -0.5;
      return roundTo(y + turn, g.resolution); // one turn of the thimble
    }
    const digits = y.toFixed(g.resolution >= 0.01 ? 2 : 3).split(""); // two neighbouring digits exchanged
    const dot = digits.indexOf(".");
    const last = digits.length - 1;
    for (const j of [last - 1, last - 2, dot - 2]) {
      const [one, two] = [digits[j], digits[j + 1]];
      if (j <= dot || j + 1 > last || one === two) continue;
      [digits[j], digits[j + 1]] = [two!, one!];
      return Number(digits.join(""));
    }
    return roundTo(y + 0.1, g.resolution);
  }

  /** What everybody believes is in the control. */
  registerValue(id: string): number {
    return this.registers.get(id)!.keyed;
  }

  /** Adds to a register, rounded to its least increment; it takes effect with the next piece. */
  changeRegister(id: string, delta: number): { applied: number; value: number; fromPiece: number } {
    const register = this.registers.get(id)!;
    const increment = register.def.leastIncrement ?? 0.001;
    const fromPiece = this.pieceNo + 1;
    const before = this.worstAhead();
    const applied = roundTo(delta, increment);
    if (applied === 0) return { applied: 0, value: register.keyed, fromPiece };
    this.counts.corrections += 1;
    const error = this.scenario.keyError;
    let real = applied;
    if (error && uniform(this.seed, "key", id, this.pieceNo) < error.probability)
      real = uniform(this.seed, "keykind", id, this.pieceNo) < 0.5 ? -applied : 0; // wrong sign, or not keyed
    register.keyed = roundTo(register.keyed + applied, increment);
    register.value = roundTo(register.value + real, increment);
    if (real === applied && this.worstAhead() > before + 0.02) this.counts.falseCorrections += 1;
    return { applied, value: register.keyed, fromPiece };
  }

  /** Used at a tool change; not counted as a correction. */
  setRegister(id: string, value: number): void {
    const register = this.registers.get(id)!;
    const rounded = roundTo(value, register.def.leastIncrement ?? 0.001);
    register.keyed = rounded;
    register.value = rounded;
  }

  /** Adds to the work offset of one seat; it takes effect with the next piece in that seat. */
  changeSeatRegister(
    id: string,
    seat: number,
    delta: number,
  ): { applied: number; value: number; fromPiece: number } {
    const register = this.seatRegisters.get(id)!;
    const fromPiece = this.pieceNo + 1;
    const applied = roundTo(delta, register.leastIncrement);
    if (!applied) return { applied: 0, value: register.values[seat - 1]!, fromPiece };
    const before = this.worstAhead();
    const value = roundTo(register.values[seat - 1]! + applied, 1e-9);
    register.values[seat - 1] = value;
    this.counts.corrections += 1;
    this.counts.seatCorrections = (this.counts.seatCorrections ?? 0) + 1;
    if (this.worstAhead() > before + 0.02) this.counts.falseCorrections += 1;
    return { applied, value, fromPiece };
  }

  private worst(seat: number | undefined): number {
    const means = this.trueMeans(seat);
    let worst = 0;
    if (this.scenario.batches || this.scenario.features.some((f) => f.target != null)) {
      for (const f of this.featuresOf(Math.max(1, this.pieceNo)))
        worst = Math.max(worst, Math.abs(this.side(f, means[f.id]!)));
      return worst;
    }
    for (const f of this.scenario.features)
      worst = Math.max(
        worst,
        Math.abs(means[f.id]! - (f.upper! + f.lower!) / 2) / ((f.upper! - f.lower!) / 2),
      );
    return worst;
  }

  /** Worst feature's expected |deviation| over half tolerance, averaged over the next 10 pieces as if nothing else changed. */
  private worstAhead(n = 10): number {
    const tools = [...this.tools.values()];
    const ages = tools.map((t) => t.age);
    const { theta } = this;
    let sum = 0;
    for (let j = 1; j <= n; j++) {
      for (const t of tools) t.age += 1;
      if (this.scenario.thermal) this.theta += (1 - this.theta) / (this.scenario.thermal.tau ?? 15);
      sum += this.worst(this.seatOf(this.pieceNo + j));
    }
    tools.forEach((t, i) => {
      t.age = ages[i]!;
    });
    this.theta = theta;
    return sum / n;
  }

  toolAge(id: string): number {
    return this.tools.get(id)!.age;
  }

  changeTool(id: string, registerValues: Record<string, number> = {}): void {
    this.newEdge(id);
    this.counts.edges += 1;
    for (const r of this.scenario.registers.filter((r) => r.tool === id))
      this.setRegister(r.id, registerValues[r.id] ?? 0);
  }

  /** A person looks at the setup: seat, clamping, register table, edges. What is wrong is put right, but edges stay in. */
  inspect(): string[] {
    this.counts.inspections += 1;
    const found = this.faults();
    this.fixture = this.fixtureActive ? {} : this.fixture;
    this.fixtureActive = false;
    for (const register of this.registers.values()) register.value = register.keyed;
    if (found.length === 0) this.counts.falseInspections += 1;
    return found;
  }

  score() {
    const n = this.pieceNo;
    let made = 0;
    let shipped = 0;
    let first = 0;
    let scrap = 0;
    for (const p of this.pieces.values()) {
      if (!p.bad) continue;
      made += 1;
      if (p.badFeatures.some((id) => this.isTooFarGone(this.features.get(id)!, p.sizes[id]!))) scrap += 1;
      if (p.firstOfEdge) first += 1;
      if (!p.caught) shipped += 1;
    }
    const per1000 = (x: number) => (1000 * x) / n;
    const { measurements, corrections, falseCorrections } = this.counts;
    return {
      pieces: n,
      outOfToleranceMade: made,
      outOfToleranceShipped: shipped,
      outOfToleranceFirstPieces: first,
      ...this.counts,
      meanAbsDeviationOverHalfTolerance: this.deviationSum / this.deviationCount,
      per1000: {
        made: per1000(made),
        madeFirst: per1000(first),
        scrap: per1000(scrap),
        shipped: per1000(shipped),
        measurements: per1000(measurements),
        corrections: per1000(corrections),
        falseCorrections: per1000(falseCorrections),
      },
    };
  }

  private isTooFarGone(f: ScenarioFeature, x: number): boolean {
    return (f.metal ?? 1) > 0 ? f.lower != null && x < f.lower : f.upper != null && x > f.upper;
  }
}
