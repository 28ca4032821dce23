import { Plan } from "./plan.js";

/** @typedef {import("./plan.js").Settings} Settings */
/** @typedef {import("./engine.js").Engine} Engine */
/** @typedef {import("./sound.js").Sound} Sound */
/** @typedef {ReturnType<Engine["make"]>} Job */
/** @typedef {{settings: Settings, tempo?: number, piece?: Piece, reopen?: () => void}} Change */

const ahead = 2.5; // seconds of samples that wait in the mixer
const notice = 0.3; // seconds before a bar at which a change can still be made for it
const enough = 1.5; // seconds of the changed bar, or all of it, that are made before it is taken
const margin = 0.08; // seconds by which the changed bar must be there

/**
 * Plays a piece: has its bars made ahead of what is heard, and changes what comes
 * next at the next bar.
 */
export class Player {
  /**
   * @param {Engine} engine
   * @param {Sound} sound
   * @param {Piece} piece
   * @param {Settings} settings
   */
  constructor(engine, sound, piece, settings) {
    this.engine = engine;
    this.sound = sound;
    this.piece = piece;
    this.settings = settings;
    /** @type {Plan | undefined} */
    this.plan = undefined;
    this.playing = false;
    /** @type {{bar: PlannedBar, job: Job, rests: boolean} | undefined} */
    this.making = undefined;
    this.ready = 0; // frames that are in the mixer
    this.ended = false; // the plan has no more bars
    /** What the next bar that can still be changed goes on with. @type {Change | undefined} */
    this.wanted = undefined;
    /** The first bar of a change, while its beginning is awaited. @type {Job | undefined} */
    this.trial = undefined;
    /** @type {Record<number, number>} */
    this.levels = {};
    /** @type {number[]} */
    this.guides = [];
    this.countLevel = 1;
    /** Told when it starts, stops or comes to an end. */
    this.onChange = () => {};
    /** Told of every round that was played to its end. @type {(bar: PlannedBar) => void} */
    this.onRound = () => {};
    /** The bar that is made while nothing plays. @type {Job | undefined} */
    this.warming = undefined;
    /** Told whether all bars have been made once. @type {(all: boolean) => void} */
    this.onWarm = () => {};
    this.counted = 0; // the last bar's serial that was counted
    sound.onReport = () => this.tend();
  }

  /** Numbers of all parts of the piece. */
  get parts() {
    return this.piece.parts.map((p) => p.number);
  }

  /** @param {number} first index of the bar to begin with */
  async play(first) {
    await this.sound.open();
    this.warming?.cancel();
    this.plan = new Plan(this.piece, this.sound.rate, this.settings, first);
    this.playing = true;
    this.ended = false;
    this.ready = this.counted = 0;
    this.sound.report = { frame: 0, context: Infinity, waited: 0 };
    this.sendLevels();
    this.sound.send({ play: true });
    this.onChange();
    this.feed();
  }

  stop() {
    this.making?.job.cancel();
    this.trial?.cancel();
    this.making = this.trial = this.wanted = undefined;
    this.playing = false;
    this.sound.send({ stop: true });
    this.onChange();
  }

  /**
   * Has the bars of the loop made once while nothing plays, the one first with which
   * it will begin: their notes are there when they are wanted.
   * @param {number} index
   */
  async warm(index) {
    this.warming?.cancel();
    this.onWarm(false);
    if (this.playing) return;
    const { tempo, from, to } = this.settings;
    const bars = [index];
    for (let bar = from; bar <= to; bar++) if (bar !== index) bars.push(bar);
    for (const bar of bars) {
      const job = this.engine.make(this.order(bar, tempo, false), false);
      this.warming = job;
      await job.done.catch(() => {});
      if (this.warming !== job) return;
    }
    this.onWarm(true);
  }

  /** Makes nothing ahead while nothing plays: something else is more urgent. */
  cool() {
    this.warming?.cancel();
    this.warming = undefined;
  }

  /**
   * @param {number} bar
   * @param {number} tempo
   * @param {boolean} ends
   */
  order(bar, tempo, ends) {
    const click = this.piece.parts[0].number;
    return { index: Math.max(0, bar), tempo, ends, parts: bar < 0 ? [click] : this.parts };
  }

  /** Frame at which the samples of a bar begin: a hand begins some strokes before the beat. @param {PlannedBar} bar */
  begins(bar) {
    return bar.start - this.piece.lead;
  }

  /** What happens at every report of the mixer. */
  tend() {
    if (!this.playing || !this.plan) return;
    const { frame } = this.sound.report;
    for (const bar of this.plan.bars) {
      const last = bar.bar === this.plan.settings.to;
      if (last && bar.serial > this.counted && bar.start + bar.length <= frame) {
        this.counted = bar.serial;
        this.onRound(bar);
      }
    }
    const final = this.plan.bars[this.plan.bars.length - 1];
    if (this.ended && !this.making && final && frame > final.start + final.length + 2 * this.sound.rate) {
      this.stop();
      return;
    }
    this.plan.forget(frame - this.sound.rate);
    this.pace();
    this.feed();
    this.change();
  }

  /** Has the next bar made where too little waits in the mixer. */
  feed() {
    const { plan } = this;
    if (!this.playing || !plan || this.making || this.ended) return;
    if (this.farAhead()) return;
    const bar = plan.next();
    if (!bar) {
      this.ended = true;
      this.deliverable(Infinity);
      return;
    }
    let at = this.begins(bar);
    const job = this.engine.make(this.order(bar.bar, bar.tempo, bar.ends), false, (blocks, frames) => {
      this.deliver(bar, at, blocks, frames);
      at += frames;
      this.deliverable(Math.min(at, this.begins(bar) + bar.length));
      this.pace();
    });
    this.making = { bar, job, rests: false };
    this.finish(bar, job);
  }

  /** Whether enough waits in the mixer. */
  farAhead() {
    return this.ready - this.sound.report.frame > ahead * this.sound.rate;
  }

  /** Has the bar in the making wait while enough of it does: a slow bar is large. */
  pace() {
    const { making } = this;
    if (!making || making.rests === this.farAhead()) return;
    making.rests = !making.rests;
    if (making.rests) making.job.rest();
    else making.job.go();
  }

  /**
   * Goes on once a bar is complete.
   * @param {PlannedBar} bar
   * @param {Job} job
   */
  finish(bar, job) {
    const ours = () => this.making?.job === job;
    job.done.then(() => {
      if (!ours()) return;
      this.making = undefined;
      this.deliverable(this.begins(bar) + bar.length);
      this.feed();
    }, () => (ours() || this.trial === job) && this.stop());
  }

  /**
   * @param {PlannedBar} bar
   * @param {number} start
   * @param {Blocks} blocks
   * @param {number} frames
   */
  deliver(bar, start, blocks, frames) {
    const buffers = blocks.flatMap((b) => (b ? [b.buffer] : []));
    this.sound.send({ blocks, frames, start, serial: bar.serial, turn: bar.bar < 0 ? "count" : bar.answer ? "answer" : "usual" }, /** @type {any} */ (buffers));
  }

  /** @param {number} frame all samples before it have been sent */
  deliverable(frame) {
    this.ready = frame;
    this.sound.send({ ready: frame });
  }

  /**
   * Goes on with other settings from the next bar on.
   * @param {Partial<Settings>} settings
   * @param {{piece?: Piece, reopen?: () => void}} [other] another piece, and what opens it in the engine
   */
  set(settings, other = {}) {
    this.settings = { ...this.settings, ...settings };
    if (!this.playing) {
      this.piece = other.piece ?? this.piece;
      other.reopen?.();
      return;
    }
    const tempo = settings.tempo === undefined ? {} : { tempo: settings.tempo };
    this.wanted = { ...this.wanted, ...tempo, ...other, settings: this.settings };
    this.change();
  }

  /** Where a change can begin: at a bar that is planned, or behind the last. */
  boundary() {
    const { plan, sound } = this;
    const soonest = sound.report.frame + notice * sound.rate + this.piece.lead;
    const bars = plan?.bars ?? [];
    const planned = bars.find((b) => b.start >= soonest);
    if (planned) return { serial: planned.serial, frame: planned.start };
    const last = bars[bars.length - 1];
    if (!last || this.making || this.ended || last.start + last.length < soonest) return undefined;
    return { serial: last.serial + 1, frame: last.start + last.length };
  }

  /**
   * Has the first bar of what is wanted made, before all else, and puts it in the
   * place of what was planned if its beginning is there in time.
   */
  change() {
    const { plan, sound, wanted } = this;
    const from = this.boundary();
    if (!plan || !wanted || this.trial || !from) return;
    this.wanted = undefined;
    const trial = plan.copy();
    trial.piece = wanted.piece ?? trial.piece;
    trial.cut(from.serial, wanted.settings, wanted.tempo);
    const bar = trial.next();
    if (!bar) {
      this.take(trial, from);
      return;
    }
    wanted.reopen?.();
    delete wanted.reopen;
    let at = this.begins(bar);
    /** @type {{start: number, blocks: Blocks, frames: number}[]} */
    const held = [];
    const job = this.engine.make(this.order(bar.bar, bar.tempo, bar.ends), true, (blocks, frames) => {
      held.push({ start: at, blocks, frames });
      at += frames;
      if (this.trial === job) {
        if (at - this.begins(bar) < Math.min(bar.length, enough * sound.rate)) return;
        this.trial = undefined;
        if (this.begins(bar) - sound.report.frame < margin * sound.rate) {
          // Too late for this bar; for the next one its notes are there already.
          job.cancel();
          this.wanted = { ...wanted, ...this.wanted };
          return;
        }
        this.take(trial, from);
        this.making = { bar, job, rests: false };
      }
      for (const h of held.splice(0)) this.deliver(bar, h.start, h.blocks, h.frames);
      this.deliverable(Math.min(at, this.begins(bar) + bar.length));
      this.pace();
    });
    this.trial = job;
    this.finish(bar, job);
  }

  /**
   * Puts a plan in the place of the one that is played.
   * @param {Plan} plan
   * @param {{serial: number, frame: number}} from
   */
  take(plan, from) {
    this.making?.job.cancel();
    this.making = undefined;
    this.plan = plan;
    this.piece = plan.piece;
    this.ended = false;
    this.ready = from.frame - this.piece.lead;
    this.sound.send({ cut: from.serial, from: this.ready });
  }

  /**
   * Sets how loud parts are, at once.
   * @param {Record<number, number>} levels factors by number of the part
   * @param {number[]} guides parts that are silent when it is the student's turn
   * @param {number} countLevel how loud it counts in
   */
  setLevels(levels, guides, countLevel) {
    this.levels = levels;
    this.countLevel = countLevel;
    this.guides = guides;
    this.sendLevels();
  }

  sendLevels() {
    const most = Math.max(...this.parts);
    const usual = Array.from({ length: most + 1 }, (_, part) => this.levels[part] ?? 0);
    const answer = usual.map((gain, part) => (this.guides.includes(part) ? 0 : gain));
    const count = usual.map(() => this.countLevel);
    this.sound.send({ gains: { usual, answer, count } });
  }
}
