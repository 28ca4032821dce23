import { button, h, musical, noteOf, s, spoken } from "./dom.js";
import { Neck } from "./neck.js";
import { labelled, panel } from "./panels.js";
import { readOwn, writeOwn } from "./own.js";

/** @typedef {import("./editor.js").Editor} Editor */
/** @typedef {import("./stand.js").Stand} Stand */
/** @typedef {{from: number, to: number, lower: Note, upper: Note}} Choice */
/** @typedef {{number: number, own: boolean, signs: string[], thirds: Choice[]}} BarOfLine */

/** @type {Record<string, string>} */
const shown = { "-": "–", ".": "·", x: "x" };
/** @type {Record<string, string>} */
const said = { "-": "held", ".": "rest", x: "found" };

/** One bar of the line: how else it could go, and its thirds written by hand. */
export class BarPanel {
  /**
   * @param {Editor} editor
   * @param {Stand} stand
   * @param {(op: string, ...args: any[]) => Promise<any>} ask asks the engine
   */
  constructor(editor, stand, ask) {
    this.editor = editor;
    this.stand = stand;
    this.ask = ask;
    this.index = 0; // of the bar, repeats written out
    this.slot = 0;
    /** @type {BarOfLine | undefined} */
    this.bar = undefined;
    this.number = h("input", { type: "number", min: 0, class: "bar-number", change: () => this.chooseNumber() });
    this.lock = button("Lock this bar", () => this.write(this.bar?.own ? undefined : this.signs()));
    this.slots = h("div", { class: "row slots", role: "group", "aria-label": "Slots of the bar" });
    this.neck = new Neck(stand.piece);
    this.neck.gap = 27; // places are tapped
    this.neck.place.classList.add("choices");
    this.ways = h("ul", { class: "ways-found", "aria-label": "Other ways to play the bar" });
    this.told = h("p", { class: "hint", role: "status" });
    this.panel = panel(
      "One bar", false,
      h("div", { class: "row" }, labelled("Bar", this.number), this.lock, button("Other ways", () => this.find())),
      h("p", { class: "hint" }, "Tap a bar on the sheet to choose it. Then choose a slot, and a place on the neck for its lower note. Or tap a row of the bar's tab: its string takes the lower note, a higher one at each tap."),
      this.slots,
      h("div", { class: "row" }, button("Hold", () => this.put("-")), button("Rest", () => this.put(".")), button("Let it be found", () => this.put("x"))),
      this.neck.place, this.ways, this.told,
    );
    this.panel.classList.add("one-bar");
    this.panel.addEventListener("toggle", () => this.follow());
  }

  /** @param {number} written the bar on the sheet */
  choose(written) {
    const index = this.stand.piece.bars.findIndex((_, i) => this.stand.written(i) === written);
    if (index < 0) return;
    this.index = index;
    this.slot = 0;
    this.follow();
  }

  /**
   * Writes a third where the tab of the bar that is chosen is tapped, and reports
   * whether it was.
   * @param {number} written the bar on the sheet
   * @param {PointerEvent} event
   */
  tap(written, event) {
    const { bar, stand } = this;
    if (!this.panel.open || !bar || stand.written(this.index) !== written) return false;
    const signs = this.signs();
    const at = stand.sheet.tabAt(written, event, signs.length, stand.piece.barTicks);
    if (!at) return false;
    const here = bar.thirds.filter((c) => at.slot >= c.from && at.slot < c.to);
    const onString = here.filter((c) => c.lower.string === at.string);
    if (!onString.length) return false;
    const now = onString.findIndex((c) => c.lower.pitch === signs[at.slot]);
    let sounding = at.slot; // the third that is held there, or was heard last
    while (sounding > 0 && !here.some((c) => c.lower.pitch === signs[sounding])) sounding--;
    const from = here.findIndex((c) => c.lower.pitch === signs[sounding]);
    const near = (/** @type {Choice} */ c) => Math.abs(here.indexOf(c) - from);
    const next = now >= 0 ? onString[(now + 1) % onString.length] : onString.reduce((best, c) => (near(c) < near(best) ? c : best));
    this.slot = at.slot;
    this.put(next.lower.pitch);
    return true;
  }

  chooseNumber() {
    const index = this.stand.piece.bars.findIndex((b) => b.number === this.number.valueAsNumber);
    if (index < 0) this.number.valueAsNumber = this.bar?.number ?? 1;
    else this.choose(this.stand.written(index));
  }

  /** Shows the bar as it is now. */
  async follow() {
    if (!this.panel.open) return;
    this.index = Math.min(this.index, this.stand.piece.bars.length - 1);
    this.ways.replaceChildren();
    this.told.textContent = "";
    try {
      this.bar = JSON.parse(await this.ask("bar-of-line", this.index));
    } catch {
      return; // a newer text is being arranged
    }
    this.show();
  }

  /** The signs of the bar: those that are written, or what was found. */
  signs() {
    const { bar } = this;
    if (!bar) return [];
    const written = readOwn(this.editor.value, bar.number);
    return written?.length === bar.signs.length ? written : bar.signs;
  }

  show() {
    const { bar } = this;
    if (!bar) return;
    if (document.activeElement !== this.number) this.number.valueAsNumber = bar.number;
    this.lock.textContent = bar.own ? "Unlock this bar" : "Lock this bar";
    const signs = this.signs();
    this.slot = Math.min(this.slot, signs.length - 1);
    this.slots.replaceChildren(
      ...signs.map((sign, i) =>
        h("button", {
          type: "button", class: "slot", "aria-pressed": String(i === this.slot), "aria-label": `Slot ${i + 1}: ${said[sign] ?? musical(sign)}`,
          click: () => this.select(i),
        }, shown[sign] ?? musical(sign)),
      ),
    );
    this.showPlaces(bar);
  }

  /** @param {number} slot */
  select(slot) {
    this.slot = slot;
    this.show();
    /** @type {HTMLElement | null} */ (this.slots.children[slot])?.focus();
  }

  /** @param {BarOfLine} bar */
  showPlaces(bar) {
    const { neck, slot } = this;
    const choices = bar.thirds.filter((c) => slot >= c.from && slot < c.to);
    const now = this.signs()[slot];
    neck.piece = this.stand.piece;
    neck.leftHanded = this.stand.neck.leftHanded;
    neck.lay(bar.thirds.flatMap((c) => [c.lower.fret, c.upper.fret]));
    neck.dots.replaceChildren(...choices.map((choice) => this.place(choice, choice.lower.pitch === now)));
    neck.drawing.setAttribute("role", "group");
    neck.drawing.setAttribute("aria-label", "Places of the thirds' lower notes");
  }

  /**
   * @param {Choice} choice
   * @param {boolean} chosen
   */
  place({ lower, upper }, chosen) {
    const { neck } = this;
    const name = musical(noteOf(lower.pitch));
    const [x, y] = [neck.x(lower.fret), neck.y(lower.string)];
    return s(
      "g",
      {
        class: chosen ? "choice chosen" : "choice", role: "button", tabindex: 0, "aria-pressed": String(chosen),
        "aria-label": `${spoken(lower.pitch)} and ${spoken(upper.pitch)}, strings ${lower.string} and ${upper.string}, frets ${lower.fret} and ${upper.fret}`,
        click: () => this.put(lower.pitch),
        keydown: (/** @type {KeyboardEvent} */ event) => {
          if (event.key !== "Enter" && event.key !== " ") return;
          event.preventDefault();
          event.stopPropagation();
          this.put(lower.pitch);
        },
      },
      s("line", { x1: x, y1: y, x2: neck.x(upper.fret), y2: neck.y(upper.string), class: "reach" }),
      s("circle", { cx: neck.x(upper.fret), cy: neck.y(upper.string), r: 4 }),
      s("circle", { cx: x, cy: y, r: 12 }),
      s("text", { x, y: y + 4 }, name),
    );
  }

  /** Writes a sign into the slot, and goes on to the next. @param {string} sign */
  put(sign) {
    const signs = this.signs().slice();
    if (!signs.length) return;
    signs[this.slot] = sign;
    // After a rest there is nothing to hold.
    for (let i = 1; i < signs.length; i++) if (signs[i] === "-" && signs[i - 1] === ".") signs[i] = ".";
    this.write(signs);
    if (this.slot < signs.length - 1) this.slot++;
  }

  /** @param {string[] | undefined} signs undefined takes the bar out of the text */
  write(signs) {
    if (!this.bar) return;
    const text = writeOwn(this.editor.value, this.bar.number, signs?.join(" "));
    if (text === undefined) this.told.textContent = "The settings of the line stand in braces: write each on a line of its own first.";
    else this.editor.write(text);
  }

  /** Has the search look for other ways. */
  async find() {
    if (!this.bar) return;
    this.told.textContent = "Looking for other ways…";
    try {
      /** @type {string[][]} */
      const found = JSON.parse(await this.ask("ways", this.index));
      this.told.textContent = found.length ? "" : "There is no other good way while the bars around it stay as they are.";
      this.ways.replaceChildren(
        ...found.map((signs, i) =>
          h("li", {}, h("button", { type: "button", "aria-label": `Take way ${i + 1}: ${signs.map((sign) => said[sign] ?? spoken(sign)).join(", ")}`, click: () => this.write(signs) }, "Take"), h("span", {}, signs.map((sign) => shown[sign] ?? musical(sign)).join(" "))),
        ),
      );
    } catch {
      this.told.textContent = "The exercise has mistakes.";
    }
  }
}
