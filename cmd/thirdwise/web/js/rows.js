import { s } from "./dom.js";

/** @typedef {{group: SVGElement, number: number}} NumberedThird */
/** @typedef {{place: HTMLElement, bars: SVGRectElement[], thirds: NumberedThird[], before: number}} DrawnRow */

/**
 * The rows of a strip on the page, each a drawing of its own. A row that the next strip
 * has, too, stays as it is: who changes a chord sees one row or two drawn anew.
 */
export class Rows {
  /** @param {HTMLElement} place */
  constructor(place) {
    this.place = place;
    /** Outlines of signs and letters, to which all rows refer. */
    this.outlines = s("defs");
    /** @type {Set<string>} */
    this.known = new Set();
    /** @type {Map<string, DrawnRow>} by what the engine wrote */
    this.drawn = new Map();
    place.append(s("svg", { class: "outlines", width: 0, height: 0, "aria-hidden": "true" }, this.outlines));
  }

  /**
   * Takes the outlines that a strip brings.
   * @param {Strip} strip
   */
  learn(strip) {
    if (!strip.outlines) return;
    const news = [...parsed(strip.outlines).querySelectorAll("path")].filter((path) => !this.known.has(path.id));
    for (const path of news) this.known.add(path.id);
    this.outlines.append(...news);
    strip.outlines = "";
  }

  /**
   * Shows a strip.
   * @param {Strip} strip
   * @returns {DrawnRow[]}
   */
  show(strip) {
    this.learn(strip);
    /** @type {Map<string, DrawnRow>} */
    const next = new Map();
    let first = 0; // bar of the row
    const rows = strip.rows.map((row, i) => {
      const boxes = strip.bars.filter((box) => box.row === i);
      let key = row.svg;
      while (next.has(key)) key += " "; // another that looks the same is a row of its own
      const drawn = this.drawn.get(key) ?? drawRow(row.svg, boxes);
      this.drawn.delete(key);
      next.set(key, drawn);
      number(drawn, row.third, first);
      first += boxes.length;
      return drawn;
    });
    for (const { place } of this.drawn.values()) place.remove();
    this.drawn = next;
    let before = /** @type {Element} */ (this.outlines.parentElement);
    for (const { place } of rows) {
      if (before.nextElementSibling !== place) before.after(place);
      before = place;
    }
    return rows;
  }
}

/**
 * @param {string} svg
 * @param {Box[]} boxes of its bars
 * @returns {DrawnRow}
 */
function drawRow(svg, boxes) {
  const drawing = parsed(svg);
  drawing.setAttribute("class", "music");
  drawing.setAttribute("aria-hidden", "true"); // a crowd of numbers: who does not see it has it in words
  const bars = boxes.map((b) => s("rect", { class: "bar", x: b.x, y: b.y - 1, width: b.width, height: b.height + 2 }));
  drawing.prepend(s("g", {}, ...bars));
  const thirds = [.../** @type {NodeListOf<SVGElement>} */ (drawing.querySelectorAll("[data-third]"))].map((group) => ({
    group, number: Number(group.getAttribute("data-third")),
  }));
  const [, , width, height] = (drawing.getAttribute("viewBox") ?? "").split(" ").map(Number);
  const place = document.createElement("div");
  place.className = "system";
  place.style.aspectRatio = `${width} / ${height}`;
  place.append(drawing);
  return { place, bars, thirds, before: 0 };
}

/**
 * Numbers a row's thirds and bars, which the engine counts from its first.
 * @param {DrawnRow} row
 * @param {number} before how many thirds go before it
 * @param {number} first number of its first bar
 */
function number(row, before, first) {
  row.bars.forEach((bar, i) => bar.setAttribute("data-written", String(first + i)));
  if (row.before === before) return;
  row.before = before;
  for (const third of row.thirds) {
    third.group.setAttribute("data-third", String(third.number + before));
    if (third.group.id) third.group.id = `third-${third.number + before}`;
  }
}

/**
 * Makes a drawing of what the engine wrote, in which an exercise's texts are escaped.
 * The page's policy lets no script of it run.
 * @param {string} svg
 */
function parsed(svg) {
  const template = document.createElement("template");
  template.innerHTML = svg;
  return /** @type {SVGSVGElement} */ (template.content.firstElementChild);
}
