import { button, h } from "./dom.js";
import { labelled, panel } from "./panels.js";
import { recall, remember } from "./store.js";
import { barInWords, called, chordInWords, gripInWords } from "./words.js";

/** @typedef {import("./stand.js").Stand} Stand */

/** Says where it is and what is played, for a screen reader. */
export class Aloud {
  /** @param {Stand} stand */
  constructor(stand) {
    this.stand = stand;
    this.calls = recall("calls") === true; // whether each chord is called before it comes
    this.called = ""; // the last one, and where
    this.onChange = () => {};
    stand.watchers.push((moment) => this.calls && moment && this.call(moment));
  }

  /** @param {boolean} on */
  setCalls(on) {
    this.calls = on;
    remember("calls", on);
    this.onChange();
  }

  /** The bar and the chord that sound, or with which it begins. */
  here() {
    const { stand } = this;
    const moment = stand.player.playing ? stand.moment() : undefined;
    const index = moment && moment.bar.bar >= 0 ? moment.bar.bar : stand.at;
    const bar = stand.piece.bars[index];
    return { index, bar, chord: moment?.chord ?? bar.chords[0], tempo: moment?.bar.tempo ?? stand.settings.tempo };
  }

  /** Says section, bar, chord and tempo. */
  sayWhere() {
    const { bar, chord, tempo } = this.here();
    const section = [...this.stand.piece.bars].reverse().find((b) => b.section && b.tick <= bar.tick)?.section;
    // Isolated: a section may be written from right to left.
    this.stand.say(`${section ? `\u2068${section}\u2069, ` : ""}bar ${bar.number}, ${chord ? chordInWords(called(chord)) : "no chord"}, tempo ${tempo}`);
  }

  sayGrip() {
    const { chord } = this.here();
    this.stand.say(chord ? gripInWords(chord) : "No chord.");
  }

  sayBar() {
    this.stand.say(barInWords(this.stand.piece, this.here().index));
  }

  /**
   * Calls the chord that comes, a beat before it.
   * @param {import("./stand.js").Moment} moment
   */
  call({ bar, tick, chord, chordAfter, beat }) {
    const { piece, settings } = this.stand;
    const within = bar.bar < 0 ? beat * piece.beat : tick + piece.beat - piece.bars[bar.bar].tick;
    const key = `${bar.serial} ${chord?.tick}`;
    if (key === this.called) return;
    if (bar.bar < 0) {
      if (bar.bar < -1 || within < piece.barTicks) return;
      this.called = key;
      if (chordAfter) this.stand.say(chordInWords(called(chordAfter)));
      return;
    }
    if (!chord || tick + piece.beat < chord.tick + chord.length) return;
    this.called = key;
    const chords = piece.bars.flatMap((b) => b.chords);
    const end = piece.bars[settings.to].tick + piece.barTicks;
    let next = chords.find((c) => c.tick === chord.tick + chord.length && c.tick < end);
    if (!next && !bar.ends) next = piece.bars[settings.from].chords[0];
    if (next && next.symbol !== chord.symbol) this.stand.say(chordInWords(called(next)));
  }
}

/**
 * The exercise in words, and what says where it is.
 * @param {Stand} stand
 */
export function aloudPanel(stand) {
  const { aloud } = stand;
  const calls = h("input", { type: "checkbox", change: () => aloud.setCalls(calls.checked) });
  aloud.onChange = () => (calls.checked = aloud.calls);
  aloud.onChange();
  const grips = h("ul", { class: "in-words", "aria-label": "Grips" });
  const bars = h("ol", { class: "in-words", "aria-label": "Bars" });
  const shown = panel(
    "In words", false,
    h("div", { class: "row" }, button("Where is it?", () => aloud.sayWhere()), button("Say the grip", () => aloud.sayGrip()), button("Say the bar", () => aloud.sayBar())),
    labelled("Call each chord a beat before it comes", calls),
    grips, bars,
  );
  /** @type {Piece | undefined} */
  let told;
  const update = () => {
    const { piece } = stand;
    if (!shown.open || told === piece) return;
    told = piece;
    const chords = new Map(piece.bars.flatMap((b) => b.chords).map((c) => [c.symbol, c]));
    grips.replaceChildren(...[...chords.values()].filter((c) => c.grip).map((c) => h("li", {}, gripInWords(c))));
    const first = piece.bars.flatMap((_, i) => (piece.written.indexOf(stand.written(i)) === i ? [i] : []));
    bars.replaceChildren(...first.map((i) => h("li", { "data-bar": stand.written(i) }, barInWords(piece, i))));
  };
  shown.addEventListener("toggle", update);
  stand.listeners.push(update);
  stand.watchers.push((moment) => {
    if (!shown.open) return;
    const at = moment && moment.bar.bar >= 0 ? String(stand.written(moment.bar.bar)) : "";
    for (const item of bars.children) {
      const now = item.getAttribute("data-bar") === at;
      if (now !== item.hasAttribute("aria-current")) now ? item.setAttribute("aria-current", "true") : item.removeAttribute("aria-current");
    }
  });
  return shown;
}
