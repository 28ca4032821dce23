import { h, musical, noteOf, s } from "./dom.js";
import { gripDrawing } from "./grip.js";
import { gripInWords, thirdInWords } from "./words.js";

const fretGap = 38;
const left = 44;
const top = 18;

/** The neck with the third that sounds and the next one, and the grip of the chord. */
export class Neck {
  /** @param {Piece} piece */
  constructor(piece) {
    this.piece = piece;
    this.leftHanded = false;
    this.gap = 22; // between strings
    this.place = h("div", { class: "neck" });
    this.grip = h("div", { class: "grip" });
    /** @type {string} */
    this.drawn = "";
    /** @type {string | undefined} */
    this.gripDrawn = undefined;
    this.low = 1; // the frets that are shown
    this.high = 5;
    this.width = 0;
    this.dots = s("g", {});
    this.drawing = s("svg", {});
    this.lay();
  }

  /** How far right a fret's dots stand; 0 is the open string. @param {number} fret */
  x(fret) {
    const x = fret === 0 ? left - 15 : left + (fret - this.low + 0.5) * fretGap;
    return this.mirror(x);
  }

  /** @param {number} x */
  mirror(x) {
    return this.leftHanded ? this.width - x : x;
  }

  /** @param {number} string 1 is the highest */
  y(string) {
    return top + (string - 1) * this.gap;
  }

  /** Draws the neck without a third on it. @param {number[]} [frets] that it shows at least; those of the line */
  lay(frets = this.piece.line.flatMap((t) => [t.lower.fret, t.upper.fret])) {
    this.low = Math.max(1, Math.min(...frets.filter((f) => f > 0), 99) - 1);
    if (this.low <= 2) this.low = 1;
    this.high = Math.max(this.low + 4, ...frets, 0);
    if (!Number.isFinite(this.low) || this.low > 24) [this.low, this.high] = [1, 5];
    const strings = this.piece.tuning.length;
    const width = left + (this.high - this.low + 1) * fretGap + 14;
    const height = top + (strings - 1) * this.gap + 34;
    this.width = width;
    const drawing = s("svg", { viewBox: `0 0 ${width} ${height}`, class: "neck-drawing", role: "img", "aria-label": "Neck" });
    this.place.classList.toggle("long", this.high - this.low > 7);
    const bottom = top + (strings - 1) * this.gap;
    const mirror = (/** @type {number} */ x) => this.mirror(x);
    for (let i = 0; i <= this.high - this.low + 1; i++) {
      const x = mirror(left + i * fretGap);
      const nut = i === 0 && this.low === 1;
      drawing.append(s("line", { x1: x, y1: top, x2: x, y2: bottom, class: nut ? "nut" : "fret" }));
    }
    this.piece.tuning.forEach((open, i) => {
      const y = this.y(strings - i);
      const [from, to] = [mirror(left), mirror(width - 14)];
      drawing.append(
        s("line", { x1: from, y1: y, x2: to, y2: y, class: "string" }),
        s("text", { x: mirror(10), y: y + 4, class: "open" }, musical(noteOf(open))),
      );
    });
    for (let fret = this.low; fret <= this.high; fret++) {
      drawing.append(s("text", { x: this.x(fret), y: bottom + 26, class: "number" }, String(fret)));
    }
    this.dots = s("g", {});
    drawing.append(this.dots);
    this.drawing = drawing;
    this.place.replaceChildren(drawing);
    this.drawn = "";
  }

  /**
   * @param {Third | undefined} now
   * @param {Third | undefined} next
   */
  show(now, next) {
    const key = `${now?.tick} ${next?.tick} ${this.leftHanded}`;
    if (key === this.drawn) return;
    this.drawn = key;
    this.drawing.setAttribute("aria-label", now ? `Neck: ${thirdInWords(now)}` : "Neck");
    const dots = [];
    for (const note of next && next !== now ? [next.lower, next.upper] : []) {
      dots.push(s("circle", { cx: this.x(note.fret), cy: this.y(note.string), r: 9.5, class: "coming" }));
    }
    for (const note of now ? [now.lower, now.upper] : []) {
      dots.push(
        s("circle", { cx: this.x(note.fret), cy: this.y(note.string), r: 10.5, class: "present" }),
        s("text", { x: this.x(note.fret), y: this.y(note.string) + 4, class: "name" }, musical(noteOf(note.pitch))),
      );
    }
    this.dots.replaceChildren(...dots);
  }

  /** @param {Chord | undefined} chord */
  showGrip(chord) {
    const key = `${chord?.grip} ${chord?.symbol} ${this.leftHanded}`;
    if (key === this.gripDrawn) return;
    this.gripDrawn = key;
    this.grip.replaceChildren(...(chord?.grip ? [gripDrawing(chord.grip, `Grip of ${gripInWords(chord)}`, this.leftHanded)] : []));
  }
}
