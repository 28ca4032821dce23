// What is played: which bar comes after which, at which tempo, from which frame.

/** @typedef {{
 *   tempo: number,
 *   from: number, to: number,       // indexes of the loop's first and last bar
 *   around: boolean,                // goes round until it is stopped
 *   countIn: "none" | "once" | "always",
 *   turns: boolean,                 // every other round is the student's
 *   climb: {on: boolean, by: number, goal: number},
 * }} Settings */

// Beats per minute that a page plays.
export const slowest = 20;
export const fastest = 400;

/**
 * Returns the microseconds of a quarter note at a tempo, as the kit's files have
 * them.
 * @param {Piece} piece
 * @param {number} tempo beats per minute
 */
function quarterMicros(piece, tempo) {
  const beat = piece.beat * tempo;
  return Math.floor((60e6 * piece.ticksPerQuarter + Math.floor(beat / 2)) / beat);
}

/**
 * Returns the frame on which a tick falls, rounded once.
 * @param {Piece} piece
 * @param {number} tick
 * @param {number} tempo
 * @param {number} rate
 */
function frameOf(piece, tick, tempo, rate) {
  const second = BigInt(1e6 * piece.ticksPerQuarter);
  const sum = BigInt(tick) * BigInt(quarterMicros(piece, tempo));
  return Number((sum * BigInt(rate) + second / 2n) / second);
}

/** The bars that are going to be heard, in their order. */
export class Plan {
  /**
   * @param {Piece} piece
   * @param {number} rate samples a second
   * @param {Settings} settings
   * @param {number} first index of the bar to begin with
   */
  constructor(piece, rate, settings, first) {
    this.piece = piece;
    this.rate = rate;
    this.settings = settings;
    this.first = first;
    /** @type {PlannedBar[]} */
    this.bars = [];
    this.tempo = settings.tempo; // of the bar that comes next
    // Where that tempo began: frames are counted from there.
    this.base = { frame: piece.lead, bars: 0, tempo: settings.tempo };
    this.serial = 0;
  }

  /** Another plan of the same bars. */
  copy() {
    return Object.assign(new Plan(this.piece, this.rate, this.settings, this.first), this, { bars: [...this.bars] });
  }

  /** Plans the bar that comes next and returns it; undefined at the end. */
  next() {
    const last = this.bars[this.bars.length - 1];
    const { settings, piece } = this;
    if (!last) {
      return this.add(settings.countIn === "none" ? this.first : -piece.countIn, 1);
    }
    if (last.bar < -1) return this.add(last.bar + 1, last.round);
    const again = settings.from === 0 && piece.pickup && settings.to > 0 ? 1 : settings.from;
    if (last.bar === -1) return this.add(last.round === 1 ? this.first : again, last.round);
    if (last.bar >= settings.from && last.bar < settings.to) return this.add(last.bar + 1, last.round);
    if (!settings.around && last.round >= piece.passes) return undefined;
    const { on, by, goal } = settings.climb;
    if (on && this.tempo < goal) this.tempo = Math.min(goal, this.tempo + by);
    return this.add(settings.countIn === "always" ? -piece.countIn : again, last.round + 1);
  }

  /**
   * @param {number} bar
   * @param {number} round
   */
  add(bar, round) {
    const { settings, piece, rate, tempo } = this;
    const last = this.bars[this.bars.length - 1];
    if (tempo !== this.base.tempo) this.base = { frame: last ? last.start + last.length : piece.lead, bars: 0, tempo };
    const at = (/** @type {number} */ bars) => this.base.frame + frameOf(piece, bars * piece.barTicks, tempo, rate);
    const start = at(this.base.bars);
    /** @type {PlannedBar} */
    const planned = {
      serial: ++this.serial,
      bar,
      tempo,
      start,
      length: at(++this.base.bars) - start,
      round,
      ends: !settings.around && round >= piece.passes && settings.to === piece.bars.length - 1,
      answer: settings.turns && round % 2 === 0,
    };
    this.bars.push(planned);
    return planned;
  }

  /**
   * Forgets the bars from a serial number on, and goes on with other settings.
   * @param {number} serial
   * @param {Settings} settings
   * @param {number} [tempo] where another was asked for
   */
  cut(serial, settings, tempo) {
    this.bars = this.bars.filter((b) => b.serial < serial);
    this.settings = settings;
    const last = this.bars[this.bars.length - 1];
    this.tempo = tempo ?? last?.tempo ?? settings.tempo;
    this.base = { frame: last ? last.start + last.length : this.piece.lead, bars: 0, tempo: this.tempo };
  }

  /** Forgets the bars that ended before a frame. @param {number} frame */
  forget(frame) {
    while (this.bars.length > 1 && this.bars[0].start + this.bars[0].length < frame) this.bars.shift();
  }

  /** The bar that sounds at a frame. @param {number} frame */
  at(frame) {
    return this.bars.find((b) => frame >= b.start && frame < b.start + b.length);
  }
}
