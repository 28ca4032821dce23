import { Aloud } from "./aloud.js";
import { mediaKeys, stayAwake } from "./awake.js";
import { h, musical } from "./dom.js";
import { Neck } from "./neck.js";
import { fastest, slowest } from "./plan.js";
import { Player } from "./player.js";
import { Practised } from "./practised.js";
import { Sheet, sheetPlace } from "./sheet.js";
import { rate, Sound } from "./sound.js";
import { recall, remember } from "./store.js";
import { View } from "./view.js";
import { called } from "./words.js";

/** @typedef {import("./engine.js").Engine} Engine */
/** @typedef {import("./plan.js").Settings} Settings */

/** @typedef {{bar: PlannedBar, tick: number, third: number, chord: Chord | undefined, chordAfter: Chord | undefined, beat: number}} Moment */


/** The music stand: a piece on the page, and how it is played. */
export class Stand {
  /**
   * @param {Engine} engine
   * @param {PageContents} contents
   */
  constructor(engine, contents) {
    this.engine = engine;
    this.piece = contents.piece;
    this.sound = new Sound();
    /** @type {Settings} */
    this.settings = this.firstSettings();
    this.player = new Player(engine, this.sound, this.piece, this.settings);
    this.player.onChange = () => this.changed();
    this.player.onWarm = (all) => (document.documentElement.dataset.made = String(all));
    this.player.onRound = (bar) => this.practised.count(bar.tempo);
    this.practised = new Practised(this.piece.name);
    this.sheet = new Sheet(sheetPlace());
    this.neck = new Neck(this.piece);
    this.view = new View(this);
    /** Of each part, whether it is heard and how loud, 0 to 2. @type {Map<number, {on: boolean, level: number}>} */
    this.parts = new Map(
      this.piece.parts.map((p) => [p.number, { on: p.name !== "click" || !this.piece.clickEnds, level: 1 }]),
    );
    this.at = 0; // index of the bar at which Play begins
    /** Told when settings, parts or the playing change. @type {(() => void)[]} */
    this.listeners = [];
    /** Told of every moment that is shown. @type {((moment: Moment | undefined) => void)[]} */
    this.watchers = [];
    this.aloud = new Aloud(this);
    this.sheet.onDrag = (from, to) => this.loopWritten(from, to);
    this.sheet.onTap = (written) => this.beginAt(written);
    this.now = h("p", { class: "chord-now" });
    this.after = h("p", { class: "chord-after" });
    this.count = h("p", { class: "count" });
    this.said = h("p", { class: "said", role: "status" });
    this.trouble = h("p", { class: "trouble", role: "alert" });
    engine.ready.catch((error) => this.cannotPlay(error));
    this.open(contents);
    stayAwake(this);
    mediaKeys(this);
  }

  /** @returns {Settings} */
  firstSettings() {
    const { piece } = this;
    return {
      tempo: piece.tempos[0], from: 0, to: piece.bars.length - 1, around: true,
      countIn: piece.countIn ? "once" : "none", turns: false,
      climb: { on: false, by: piece.climb || 4, goal: Math.max(...piece.tempos) },
    };
  }

  /**
   * Shows a piece, and plays it from now on.
   * @param {PageContents} contents
   */
  open(contents) {
    const last = this.piece.bars.length - 1;
    const whole = this.settings.from === 0 && this.settings.to === last;
    const first = this.settings.tempo === this.piece.tempos[0]; // and not one that was chosen
    const ended = this.piece.clickEnds;
    this.piece = contents.piece;
    const click = this.parts.get(this.piece.parts[0].number);
    if (click && ended !== this.piece.clickEnds) click.on = !this.piece.clickEnds;
    for (const part of this.piece.parts) {
      if (!this.parts.has(part.number)) this.parts.set(part.number, { on: true, level: 1 });
    }
    const bars = this.piece.bars.length - 1;
    const range = whole ? { from: 0, to: bars } : { from: Math.min(this.settings.from, bars), to: Math.min(this.settings.to, bars) };
    /** @type {Partial<Settings>} */
    const change = first ? { ...range, tempo: this.piece.tempos[0] } : range;
    this.settings = { ...this.settings, ...change };
    this.at = Math.min(this.at, bars);
    const score = typeof contents.score === "string" ? contents.score : JSON.stringify(contents.score);
    const reopen = () => {
      this.engine.call("open", score, rate, this.piece.gain).then(() => this.player.warm(this.at), () => {});
    };
    this.player.set({ ...change }, { piece: this.piece, reopen });
    this.neck.piece = this.piece;
    this.neck.lay();
    this.sheet.show(contents.strips);
    this.markLoop();
    this.sendLevels();
    if (!this.player.playing) this.show(undefined);
    this.tell();
  }

  /** Which of the bars on the sheet a bar is. @param {number} bar */
  written(bar) {
    return this.piece.written[bar] ?? -1;
  }

  toggle() {
    if (this.player.playing) {
      this.player.stop();
      return;
    }
    this.sheet.comeIntoView();
    this.player.play(this.at).then(() => this.engine.ready).then(() => setText(this.trouble, ""), (error) => this.cannotPlay(error));
  }

  /** @param {Error} error */
  cannotPlay(error) {
    setText(this.trouble, `This browser cannot play here: ${error.message}. A newer one can, and the kit's tracks play everywhere.`);
  }

  changed() {
    if (this.player.playing) {
      requestAnimationFrame(() => this.frame());
    } else {
      const from = this.settings.from;
      if (this.at < from || this.at > this.settings.to) this.at = from;
    }
    this.tell();
  }

  /** Goes back to where the loop begins. */
  restart() {
    const { playing } = this.player;
    if (playing) this.player.stop();
    this.at = this.settings.from;
    if (playing) this.toggle();
    else this.show(undefined);
  }

  /** Shows what is heard in every frame that the screen draws. */
  frame() {
    if (!this.player.playing) return;
    this.show(this.moment());
    requestAnimationFrame(() => this.frame());
  }

  /** What is heard now. @returns {Moment | undefined} */
  moment() {
    const heard = this.sound.heard();
    const bar = this.player.plan?.at(heard);
    if (!bar) return undefined;
    const within = Math.min(this.piece.barTicks - 1, Math.floor(((heard - bar.start) / bar.length) * this.piece.barTicks));
    const beat = Math.floor(within / this.piece.beat) + 1;
    if (bar.bar < 0) return { bar, tick: -1, third: -1, chord: undefined, chordAfter: this.piece.bars[this.at]?.chords[0], beat };
    const tick = this.piece.bars[bar.bar].tick + within;
    return { bar, tick, third: this.thirdAt(tick, bar), ...this.chordsAt(tick, bar), beat };
  }

  /**
   * Index of the third that sounds at a tick, -1 where none does.
   * @param {number} tick
   * @param {PlannedBar} bar
   */
  thirdAt(tick, bar) {
    const { line, played } = this.piece;
    let i = played.findLastIndex((at) => at <= tick);
    if (i < 0) return -1;
    if (!bar.ends) return tick < played[i] + line[i].length ? i : -1;
    let held = false;
    for (; i >= 0 && line[i].leadsBack; i--) held = true; // the last arrival is held instead
    return i >= 0 && (held || tick < played[i] + line[i].length) ? i : -1;
  }

  /**
   * Index of the third that comes next.
   * @param {Moment} moment
   */
  thirdAfter({ tick, bar }) {
    const { played, bars, barTicks, line } = this.piece;
    const from = bar.bar < 0 ? bars[this.settings.from].tick - 1 : tick;
    const end = bars[this.settings.to].tick + barTicks;
    let next = played.findIndex((at) => at > from && at < end);
    if (next >= 0 && bar.ends && line[next].leadsBack) next = -1;
    if (next < 0 && !bar.ends) next = played.findIndex((at) => at >= bars[this.settings.from].tick && at < end);
    return next;
  }

  /**
   * @param {number} tick
   * @param {PlannedBar} bar
   */
  chordsAt(tick, bar) {
    const chords = this.piece.bars.flatMap((b) => b.chords);
    const at = chords.findIndex((c) => tick >= c.tick && tick < c.tick + c.length);
    const end = this.piece.bars[this.settings.to].tick + this.piece.barTicks;
    let next = chords.slice(at + 1).find((c) => c.tick < end && c.symbol !== chords[at]?.symbol);
    if (!next && !bar.ends) next = this.piece.bars[this.settings.from].chords[0];
    return { chord: chords[at], chordAfter: next };
  }

  /** @param {Moment | undefined} moment */
  show(moment) {
    const { line, bars } = this.piece;
    const at = moment && moment.bar.bar >= 0 ? moment.bar.bar : -1;
    if (at >= 0) this.at = at;
    const third = moment && moment.third >= 0 ? line[moment.third] : undefined;
    const after = moment ? line[this.thirdAfter(moment)] : line.find((t) => t.tick >= bars[this.at].tick);
    this.sheet.light(third?.tick, after?.tick, moment ? this.written(at) : -1);
    this.neck.show(third, after);
    const chord = moment ? moment.chord : bars[this.at]?.chords[0];
    const name = chord ? musical(called(chord)) : moment ? "Count-in" : "";
    setText(this.now, name);
    this.now.classList.toggle("long", name.length > 4);
    setText(this.after, moment?.chordAfter ? musical(called(moment.chordAfter)) : "");
    setText(this.count, moment ? `${at >= 0 ? `bar ${bars[at].number}` : "count-in"}, beat ${moment.beat}` : `from bar ${bars[this.at]?.number ?? 1}`);
    this.neck.showGrip(chord ?? moment?.chordAfter);
    for (const watch of this.watchers) watch(moment);
  }

  /** @param {string} text */
  say(text) {
    this.said.textContent = "";
    requestAnimationFrame(() => (this.said.textContent = text));
  }

  /** @param {number} tempo */
  setTempo(tempo) {
    if (!Number.isFinite(tempo)) return;
    this.set({ tempo: Math.max(slowest, Math.min(fastest, Math.round(tempo))) });
  }

  /** @param {Partial<Settings>} settings */
  set(settings) {
    this.settings = { ...this.settings, ...settings };
    if (this.settings.from > this.settings.to) this.settings.to = this.settings.from;
    const { from, to } = this.settings;
    this.player.set(settings.from === undefined && settings.to === undefined ? settings : { ...settings, from, to });
    if (!this.player.playing) {
      const moves = this.at < from || this.at > to;
      if (moves) this.at = from;
      this.player.warm(this.at);
      if (moves) this.sheet.bring(this.written(from));
      this.show(undefined);
    }
    this.markLoop();
    this.tell();
  }

  /**
   * @param {number} from bar as written
   * @param {number} to
   */
  loopWritten(from, to) {
    const first = this.piece.bars.findIndex((_, i) => this.written(i) === from);
    const last = this.piece.bars.findIndex((_, i) => i >= first && this.written(i) === to);
    if (first >= 0 && last >= 0) {
      if (!this.player.playing) this.at = first;
      this.set({ from: first, to: last });
    }
  }

  /**
   * Begins with a bar when it is played next.
   * @param {number} written
   */
  beginAt(written) {
    const { from, to } = this.settings;
    const bar = this.piece.bars.findIndex((_, i) => i >= from && i <= to && this.written(i) === written);
    if (bar < 0 || this.player.playing) return;
    this.at = bar;
    this.player.warm(bar);
    this.show(undefined);
  }

  markLoop() {
    const { from, to } = this.settings;
    this.sheet.mark(this.written(from), this.written(to), from === 0 && to === this.piece.bars.length - 1);
  }

  /**
   * @param {number} part
   * @param {Partial<{on: boolean, level: number}>} change
   */
  setPart(part, change) {
    const before = this.parts.get(part);
    if (before) this.parts.set(part, { ...before, ...change });
    this.sendLevels();
    this.tell();
  }

  /** @param {number[]} heard */
  choose(heard) {
    for (const [part, { level }] of this.parts) this.parts.set(part, { on: heard.includes(part), level });
    this.sendLevels();
    this.tell();
  }

  sendLevels() {
    const levels = Object.fromEntries([...this.parts].map(([part, { on, level }]) => [part, on ? level : 0]));
    const guides = this.piece.parts.filter((p) => p.name.startsWith("guide")).map((p) => p.number);
    // It counts in when the click is off, too.
    this.player.setLevels(levels, guides, this.parts.get(this.piece.parts[0].number)?.level ?? 1);
  }

  tell() {
    for (const listener of this.listeners) listener();
  }

  /** Keeps how it is practised, for the next time. */
  keep() {
    remember(`stand:${this.piece.name}`, { settings: this.settings, parts: [...this.parts], bars: this.piece.bars.length });
  }

  /** Takes up what was kept. */
  restore() {
    const kept = recall(`stand:${this.piece.name}`);
    if (!kept?.settings || !Array.isArray(kept.parts)) return;
    for (const [part, state] of kept.parts) if (this.parts.has(part)) this.parts.set(part, state);
    // A newer kit of the exercise may have another chart, whose bars were not chosen.
    const { from, to } = kept.bars === this.piece.bars.length ? kept.settings : this.settings;
    this.set({ ...kept.settings, from, to });
    this.at = this.settings.from;
    this.sendLevels();
  }
}

/**
 * @param {HTMLElement} element
 * @param {string} text
 */
function setText(element, text) {
  if (element.textContent !== text) element.textContent = text;
}
