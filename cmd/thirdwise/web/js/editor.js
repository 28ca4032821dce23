import { h } from "./dom.js";

/** @typedef {{file?: string, line?: number, column?: number, length?: number, severity: string, message: string, remedy?: string, mends?: {line: number, column: number, length: number, text: string}[]}} Finding */

const together = 700; // milliseconds: keys that follow sooner are one step back

/** The text of an exercise, with what was found marked in its place. */
export class Editor {
  constructor() {
    this.text = h("textarea", {
      id: "exercise", disabled: true, spellcheck: "false", autocapitalize: "off", autocomplete: "off", wrap: "off", "aria-describedby": "findings-count",
      input: () => this.typed(), scroll: () => this.scrolled(),
    });
    this.layer = h("div", { class: "marks-layer" });
    this.frame = h("div", { class: "editor" }, h("div", { class: "marks-frame", "aria-hidden": "true" }, this.layer), this.text);
    this.count = h("p", { id: "findings-count", role: "status", class: "hint" });
    this.list = h("ul", { class: "findings", "aria-label": "Findings" });
    /** @type {string[]} */
    this.past = [];
    /** @type {string[]} */
    this.future = [];
    this.before = "";
    this.last = 0;
    /** Told of every change. */
    this.onChange = () => {};
    this.text.addEventListener("keydown", (event) => this.key(event));
  }

  get value() {
    return this.text.value;
  }

  /**
   * Puts another exercise in.
   * @param {string} text
   * @param {string[]} past
   * @param {string[]} future
   */
  open(text, past, future) {
    this.text.disabled = false; // nothing that is typed is written over
    this.text.value = this.before = text;
    this.past = [...past];
    this.future = [...future];
    this.last = 0;
    this.onChange();
  }

  typed() {
    const now = performance.now();
    if (now - this.last > together) this.past.push(this.before);
    this.future = [];
    this.last = now;
    this.before = this.text.value;
    this.onChange();
  }

  /**
   * Writes another text, as one step.
   * @param {string} text
   * @param {number} [caret]
   */
  write(text, caret) {
    if (text === this.text.value) return;
    const { selectionStart, scrollTop } = this.text;
    this.past.push(this.before);
    this.future = [];
    this.last = 0;
    this.text.value = this.before = text;
    this.text.setSelectionRange(caret ?? selectionStart, caret ?? selectionStart);
    this.text.scrollTop = scrollTop;
    this.onChange();
  }

  /** @param {number} direction −1 for a step back, 1 for one forward again */
  step(direction) {
    const [from, to] = direction < 0 ? [this.past, this.future] : [this.future, this.past];
    const text = from.pop();
    if (text === undefined) return;
    to.push(this.before);
    this.text.value = this.before = text;
    this.last = 0;
    this.onChange();
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    const key = event.key.toLowerCase();
    if (key === "z" && !event.shiftKey) this.step(-1);
    else if (key === "y" || (key === "z" && event.shiftKey)) this.step(1);
    else return;
    event.preventDefault();
  }

  scrolled() {
    this.layer.style.transform = `translate(${-this.text.scrollLeft}px, ${-this.text.scrollTop}px)`;
  }

  /**
   * Index of a place in the text.
   * @param {number} line from 1
   * @param {number} column from 1, in characters
   */
  index(line, column) {
    const lines = this.text.value.split("\n");
    const before = lines.slice(0, line - 1).reduce((sum, l) => sum + l.length + 1, 0);
    return before + [...(lines[line - 1] ?? "")].slice(0, column - 1).join("").length;
  }

  /** @param {Finding[]} findings */
  show(findings) {
    const number = (/** @type {string} */ severity) => findings.filter((f) => f.severity === severity).length;
    const told = [[number("mistake"), "mistake"], [number("warning"), "warning"], [number("note"), "note"]]
      .filter(([n]) => n)
      .map(([n, word]) => `${n} ${word}${n === 1 ? "" : "s"}`);
    this.count.textContent = told.length ? told.join(", ") : "No mistakes";
    this.list.replaceChildren(...findings.map((f) => this.item(f)));
    this.layer.replaceChildren(...findings.flatMap((f) => this.mark(f)));
    this.scrolled();
  }

  /**
   * What a finding is about: the text before it in its line, and its own. That which has no
   * length is about the word that begins there.
   * @param {Finding} finding
   */
  about({ line, column, length }) {
    const text = [...(this.text.value.split("\n")[(line ?? 1) - 1] ?? "")];
    const from = (column ?? 1) - 1;
    const own = text.slice(from, length ? from + length : undefined).join("");
    return { before: text.slice(0, from).join(""), own: length ? own : own.match(/^[^\s|]*/)?.[0] ?? "" };
  }

  /** @param {Finding} finding */
  mark(finding) {
    const { line, severity } = finding;
    if (!line) return [];
    const { before, own } = this.about(finding);
    return [h("div", { class: "marked-line" }, h("span", { class: "before" }, "\n".repeat(line - 1) + before), h("span", { class: `mark ${severity}` }, own || " "))];
  }

  /** @param {Finding} finding */
  item(finding) {
    const { line, column, severity, message, remedy, mends } = finding;
    const place = line ? `Line ${line}: ` : "";
    const go = () => {
      if (!line) return;
      const from = this.index(line, column ?? 1);
      this.text.focus();
      this.text.setSelectionRange(from, from + this.about(finding).own.length);
    };
    const write = (mends ?? []).map((mend) =>
      h("button", {
        type: "button", class: "remedy",
        click: () => {
          const from = this.index(mend.line, mend.column);
          const to = this.index(mend.line, mend.column + mend.length);
          this.write(this.text.value.slice(0, from) + mend.text + this.text.value.slice(to), from + mend.text.length);
          this.text.focus();
        },
      }, mend.text ? `Write ${mend.text}` : "Leave it out"),
    );
    return h(
      "li",
      { class: severity },
      h("button", { type: "button", class: "place", click: go }, h("strong", {}, `${severity[0].toUpperCase()}${severity.slice(1)}. `), place, message),
      remedy ? h("span", { class: "hint" }, remedy) : undefined,
      ...write,
    );
  }
}
