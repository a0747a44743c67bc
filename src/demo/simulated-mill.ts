/** What the simulated mill makes of a piece. Lengths in mm. */
export interface CutFeature {
  nominal: number;
  /** How far off it comes out with a fresh edge and registers of 0. */
  offset: number;
  /** What the tool's wear adds for each piece that its edge has cut. */
  perPiece: number;
  /** What a warm machine adds, once it is warm. */
  warm: number;
  /** What a chipped edge adds. */
  chip: number;
  scatter: number;
  /** Change of the size for each mm in a register, by the register's id. */
  effects: ReadonlyMap<string, number>;
}

const piecesToWarmUp = 14;

/** A mill that wears its tool, warms up and now and then chips an edge; the same seed makes the same pieces. */
export class SimulatedMill {
  private readonly random: () => number;
  private cutByEdge = 0;
  private sinceColdStart = 0;
  private chipsAfter: number;
  private chipped = false;

  constructor(seed: number) {
    this.random = uniform(seed);
    this.chipsAfter = this.edgeLife();
  }

  get isChipped(): boolean {
    return this.chipped;
  }

  /** Cuts the next piece. */
  cut(): void {
    this.cutByEdge += 1;
    this.sinceColdStart += 1;
    if (this.cutByEdge > this.chipsAfter) this.chipped = true;
  }

  changeEdge(): void {
    this.cutByEdge = 0;
    this.chipped = false;
    this.chipsAfter = this.edgeLife();
  }

  /** The size of a feature on the piece that was cut last, as a gauge shows it. */
  measure(feature: CutFeature, registers: ReadonlyMap<string, number>, resolution: number): number {
    let size = feature.nominal + feature.offset + feature.perPiece * this.cutByEdge;
    size += feature.warm * (1 - Math.exp(-this.sinceColdStart / piecesToWarmUp));
    if (this.chipped) size += feature.chip;
    for (const [register, effect] of feature.effects) size += effect * (registers.get(register) ?? 0);
    size += feature.scatter * this.normal();
    return Number((Math.round(size / resolution) * resolution).toFixed(6));
  }

  private edgeLife(): number {
    return 45 + Math.floor(this.random() * 30);
  }

  /** Box and Muller, The Annals of Mathematical Statistics 29 (1958) 610. */
  private normal(): number {
    return Math.sqrt(-2 * Math.log(1 - this.random())) * Math.cos(2 * Math.PI * this.random());
  }
}

/** Uniform on [0, 1): xorshift with the shifts 13, 17, 5 (Marsaglia, Journal of Statistical Software 8 (2003), no. 14). */
function uniform(seed: number): () => number {
  let state = seed | 0 || 1;
  return () => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
}
