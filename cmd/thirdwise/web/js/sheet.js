import { h } from "./dom.js";
import { Rows } from "./rows.js";

const pixelsASpace = 8; // at least, of a strip that is chosen
const largePixels = 13; // in large print
const onPaper = 100; // staff spaces in the width of a sheet of paper
const largeOnPaper = 70;
const restTime = 350; // milliseconds that a finger rests before it drags over bars

/** The music of a piece on the page: lit as it sounds, its rows turned by itself. */
export class Sheet {
  /** @param {HTMLElement} place */
  constructor(place) {
    this.place = place;
    this.rows = new Rows(place);
    this.large = false;
    this.staves = "both"; // or tab, or notation
    /** @type {Strip[]} */
    this.strips = [];
    /** @type {Strip | undefined} */
    this.shown = undefined;
    /** @type {Map<number, SVGElement[]>} elements of the thirds by tick */
    this.thirds = new Map();
    /** @type {SVGRectElement[]} of the bars as written */
    this.bars = [];
    /** @type {SVGElement[]} */
    this.lit = [];
    /** @type {SVGElement[]} */
    this.next = [];
    this.row = -1;
    /** Told when the sheet is to be shown otherwise. */
    this.onFit = () => {};
    /** Told of a stretch of bars as written that was dragged over. @type {(from: number, to: number) => void} */
    this.onDrag = () => {};
    /** Told of a bar as written that was tapped, and where. @type {(written: number, event: PointerEvent) => void} */
    this.onTap = () => {};
    new ResizeObserver(() => this.fit()).observe(place);
    this.watchDrag();
  }

  /** @param {Strip[]} strips the narrowest first */
  show(strips) {
    if (strips === this.strips) return;
    this.strips = strips;
    for (const strip of strips) this.rows.learn(strip); // what one brings, those behind it use too
    this.shown = undefined;
    this.fit();
  }

  /** Shows the widest strip that can be read in the width that there is. */
  fit() {
    const width = this.place.clientWidth;
    if (!width || this.strips.length === 0) return;
    const most = width / (this.large ? largePixels : pixelsASpace);
    const strips = this.strips.filter((candidate) => candidate.staves === this.staves);
    const strip = strips.filter((candidate) => candidate.width <= most).pop() ?? strips[0] ?? this.strips[0];
    if (strip !== this.shown) this.draw(strip);
  }

  /** Shows the strip that fills a sheet of paper, until it is fitted again. */
  fitPaper() {
    const strips = this.strips.filter((candidate) => candidate.staves === this.staves);
    const strip = strips.filter((candidate) => candidate.width <= (this.large ? largeOnPaper : onPaper)).pop() ?? strips[0];
    if (strip && strip !== this.shown) this.draw(strip);
  }

  /** @param {Strip} strip */
  draw(strip) {
    this.shown = strip;
    this.light(undefined, undefined, -1);
    const rows = this.rows.show(strip);
    this.bars = rows.flatMap((row) => row.bars);
    this.thirds = new Map();
    for (const { group } of rows.flatMap((row) => row.thirds)) {
      for (const tick of (group.getAttribute("data-tick") ?? "").split(" ")) {
        const known = this.thirds.get(Number(tick)) ?? [];
        known.push(group);
        this.thirds.set(Number(tick), known);
      }
    }
    this.row = -1;
  }

  /**
   * Lights what sounds.
   * @param {number | undefined} tick of the sounding third
   * @param {number | undefined} next tick of the one after it
   * @param {number} written the bar as written, -1 for none
   */
  light(tick, next, written) {
    const lit = tick === undefined ? [] : this.thirds.get(tick) ?? [];
    const following = next === undefined || next === tick ? [] : this.thirds.get(next) ?? [];
    if (lit !== this.lit) {
      for (const group of this.lit) group.classList.remove("lit");
      for (const group of lit) group.classList.add("lit");
      this.lit = lit;
    }
    if (following !== this.next) {
      for (const group of this.next) group.classList.remove("next");
      for (const group of following) group.classList.add("next");
      this.next = following;
    }
    this.bars.forEach((bar, i) => bar.classList.toggle("sounding", i === written));
    if (written >= 0) this.turn(written);
  }

  /** Brings the sheet into view where less of it is seen than a bar needs. */
  comeIntoView() {
    const view = this.place.getBoundingClientRect();
    const dock = document.querySelector(".dock")?.getBoundingClientRect().top ?? innerHeight; // it lies over the page
    if (Math.min(view.bottom, dock) - Math.max(view.top, 0) >= (this.bars[0]?.getBoundingClientRect().height ?? 0)) return;
    this.place.style.scrollMarginBottom = `${innerHeight - dock + 10}px`;
    this.place.scrollIntoView({ block: "nearest" });
  }

  /** Brings the row of a bar into view, wherever the reader has gone meanwhile. @param {number} written */
  bring(written) {
    this.row = -1;
    this.turn(written);
  }

  /** Brings the row of a bar into view, once. @param {number} written */
  turn(written) {
    const row = this.shown?.bars[written]?.row ?? -1;
    if (row === this.row || row < 0) return;
    this.row = row;
    const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
    const bar = this.bars[written].getBoundingClientRect();
    const view = this.place.getBoundingClientRect();
    const dock = document.querySelector(".dock")?.getBoundingClientRect().top ?? innerHeight; // it lies over the page
    const height = Math.min(view.bottom, Math.max(dock, view.top)) - view.top;
    // In a low window the whole bar is worth more than room above it.
    const above = Math.max(0, Math.min(height * 0.25, height - bar.height - 4));
    this.place.scrollBy({ top: bar.top - view.top - above, behavior: still ? "auto" : "smooth" });
  }

  /**
   * Marks the bars of the loop.
   * @param {number} from bar as written
   * @param {number} to
   * @param {boolean} whole the loop is the whole chart
   */
  mark(from, to, whole) {
    this.bars.forEach((bar, i) => bar.classList.toggle("looped", !whole && i >= from && i <= to));
  }

  /**
   * What lies under a finger on the tab of a bar: the string, 1 for the highest, and
   * which of so many slots of the bar.
   * @param {number} written
   * @param {PointerEvent} event
   * @param {number} slots
   * @param {number} barTicks
   */
  tabAt(written, event, slots, barTicks) {
    const box = this.shown?.bars[written];
    const heights = box && this.shown?.rows[box.row].strings;
    if (!box || !heights) return undefined;
    const seen = this.bars[written].getBoundingClientRect();
    const scale = box.width / seen.width;
    const x = box.x + (event.clientX - seen.left) * scale;
    const y = box.y - 1 + (event.clientY - seen.top) * scale; // the rectangle reaches a little above the bar
    const string = nearest(heights, y);
    if (Math.abs(heights[string] - y) > 1.5 * (heights[1] - heights[0])) return undefined;
    const ticks = [...box.ticks, barTicks];
    const xs = [...box.xs, box.x + box.width];
    const places = Array.from({ length: slots }, (_, slot) => {
      const tick = (slot * barTicks) / slots;
      const next = Math.max(1, ticks.findIndex((t) => t > tick));
      const part = (tick - ticks[next - 1]) / (ticks[next] - ticks[next - 1]);
      return xs[next - 1] + part * (xs[next] - xs[next - 1]);
    });
    return { string: string + 1, slot: nearest(places, x) };
  }

  /**
   * Bars are tapped, and dragged over: at once with a mouse or a pen, and with a
   * finger, which also scrolls, after it has rested for a moment.
   */
  watchDrag() {
    let from = -1;
    let dragging = false;
    let resting = 0; // the timer of a finger
    /** @param {PointerEvent} event */
    const barAt = (event) =>
      this.bars.findIndex((bar) => {
        const box = bar.getBoundingClientRect();
        return event.clientX >= box.left && event.clientX < box.right && event.clientY >= box.top - 12 && event.clientY < box.bottom + 12;
      });
    const show = (/** @type {number} */ to) =>
      this.bars.forEach((bar, i) => bar.classList.toggle("dragged", i >= Math.min(from, to) && i <= Math.max(from, to)));
    const leave = () => {
      clearTimeout(resting);
      for (const bar of this.bars) bar.classList.remove("dragged");
      from = -1;
      dragging = false;
    };
    this.place.addEventListener("pointerdown", (event) => {
      leave();
      if (event.button !== 0 || !event.isPrimary) return;
      from = barAt(event);
      if (from < 0 || event.pointerType !== "touch") return;
      resting = setTimeout(() => {
        dragging = true;
        show(from);
      }, restTime);
    });
    this.place.addEventListener("pointermove", (event) => {
      const to = from < 0 ? -1 : barAt(event);
      if (to < 0 || (event.pointerType === "touch" && !dragging) || (to === from && !dragging)) return;
      dragging = true;
      getSelection()?.removeAllRanges();
      show(to);
    });
    // While bars are dragged over, a finger does not scroll.
    this.place.addEventListener("touchmove", (event) => dragging && event.cancelable && event.preventDefault(), { passive: false });
    this.place.addEventListener("contextmenu", (event) => dragging && event.preventDefault());
    this.place.addEventListener("pointerup", (event) => {
      const to = from < 0 ? -1 : barAt(event);
      const [first, last, dragged] = [Math.min(from, to), Math.max(from, to), dragging];
      leave();
      if (first < 0) return;
      if (dragged) this.onDrag(first, last);
      else if (first === last) this.onTap(first, event);
    });
    this.place.addEventListener("pointercancel", leave);
  }
}

/**
 * Index of the value that is nearest to another.
 * @param {number[]} values
 * @param {number} to
 */
function nearest(values, to) {
  return values.reduce((best, value, i) => (Math.abs(value - to) < Math.abs(values[best] - to) ? i : best), 0);
}

/**
 * A place for the sheet.
 * @returns {HTMLElement}
 */
export function sheetPlace() {
  return h("div", { class: "sheet", tabindex: 0, role: "region", "aria-label": "Sheet; as text under “In words”" });
}
