import { aloudPanel } from "./aloud.js";
import { BarPanel } from "./bar.js";
import { dock } from "./dock.js";
import { button, h, held } from "./dom.js";
import { Editor } from "./editor.js";
import { compile, Engine, fromBase64 } from "./engine.js";
import { ExercisesPanel } from "./exercises.js";
import { settingsForm } from "./form.js";
import { keys } from "./keys.js";
import { KitMaker } from "./kitmaker.js";
import { climbPanel, keysPanel, loopPanel, partsPanel, viewPanel } from "./panels.js";
import { progressionTool } from "./progressions.js";
import { ScreenView } from "./screen.js";
import { Stand } from "./stand.js";

/** @typedef {import("./editor.js").Finding} Finding */
/** @typedef {{findings: Finding[], strip?: Strip, number?: number}} Arranged */

const gain = -14; // dB: a little below that of most kits, since it is not measured
const patience = 2000; // milliseconds after which a text is left for a newer one
const soon = 250; // milliseconds after the last key until what is heard follows
const later = 700; // the same while nothing is heard
const olderMusic = "The exercise has mistakes: this is how it was before.";

/** The workbench: text on one side, what comes of it on the other. */
class Workbench {
  /** @param {{practice: string, examples: {name: string, text: string}[]}} contents */
  constructor(contents) {
    const module = compile(held("engine"));
    const practice = { html: contents.practice, engine: fromBase64(held("practice")) };
    this.module = module;
    this.paper = new Engine(module);
    this.begun = 0;
    this.sound = new Engine(module);
    this.editor = new Editor();
    this.kits = new KitMaker(module, practice);
    this.views = h("div", { class: "views" });
    this.printed = h("div", { class: "printed", "aria-hidden": "true" });
    /** @type {Stand | undefined} */
    this.stand = undefined;
    /** The music of what was arranged last. @type {Strip | undefined} */
    this.latest = undefined;
    this.number = 0; // of that strip, as the engine counts them
    this.busy = false;
    this.again = false;
    this.heard = 0;
    this.resized = 0;
    this.slow = 0; // the timer of what takes long
    this.stop = h("button", { type: "button", hidden: true, click: () => this.giveUp() }, "Stop arranging");
    this.waiting = 0; // for a text that takes long while there is a newer one
    this.exercises = new ExercisesPanel(this.editor, contents.examples);
    this.form = settingsForm(this.editor, (key) => this.move(key));
    this.shown = "sheet";
    this.older = h("p", { class: "hint older", role: "status" });
    this.editor.onChange = () => {
      this.form.update();
      this.exercises.changed();
      this.arrange();
    };
    this.side = h("section", { class: "result", "aria-label": "What comes of it" }, h("p", { class: "hint" }, "The engine is being started."));
    this.build();
  }

  build() {
    const { editor, exercises, form, kits } = this;
    document.body.replaceChildren(
      h(
        "header",
        {},
        h("h1", {}, "Workbench"),
        exercises.bar,
        h("div", { class: "out" }, h("div", { class: "row" }, button("Print", () => void this.print()), button("Download kit", () => this.makeKit())), kits.state),
      ),
      h(
        "main",
        {},
        h(
          "section",
          { class: "writing", "aria-label": "What you write" },
          exercises.notice,
          h("div", { class: "row above-text" }, h("label", { for: "exercise" }, "Exercise"), button("Step back", () => editor.step(-1)), button("Step forward", () => editor.step(1))),
          editor.frame, h("div", { class: "row above-text" }, editor.count, this.stop), editor.list, progressionTool(editor), kits.holds, form.form,
        ),
        this.side,
      ),
      this.printed,
    );
  }

  /** Has the text arranged, unless that is being done: then once more afterwards. */
  async arrange() {
    if (this.busy) {
      this.again = true;
      clearTimeout(this.waiting);
      this.waiting = setTimeout(() => this.giveUp(), this.begun + patience - performance.now());
      return;
    }
    this.busy = true;
    this.stand?.player.cool();
    const sheet = this.stand?.sheet;
    const width = Math.min(140, Math.max(30, ((sheet?.place.clientWidth || 700) - 18) / (sheet?.large ? 13 : 8)));
    this.begun = performance.now();
    this.slow = setTimeout(() => (this.stop.hidden = false), patience);
    try {
      /** @type {Arranged} */
      const made = JSON.parse(await this.paper.call("arrange", this.exercises.file, this.editor.value, width, sheet?.staves ?? "both", this.number));
      this.editor.show(made.findings);
      this.tellAge(made.strip !== undefined);
      if (made.strip) await this.show(made.strip, made.number ?? 0);
    } catch (error) {
      if (!this.again) { // else it was left for the newer text
        this.tellAge(false);
        this.editor.show([{ severity: "mistake", message: /** @type {Error} */ (error).message }]);
      }
    }
    clearTimeout(this.slow);
    this.stop.hidden = true;
    clearTimeout(this.waiting);
    this.busy = false;
    if (this.again) {
      this.again = false;
      this.arrange();
    } else {
      document.documentElement.dataset.arranged = String(Math.round(performance.now() - this.begun));
    }
  }

  /**
   * Says beside the music whether it is that of the text.
   * @param {boolean} current
   */
  tellAge(current) {
    const told = current ? "" : olderMusic;
    if (this.older.textContent !== told) this.older.textContent = told;
    if (!current && !this.stand) this.side.replaceChildren(h("p", { class: "hint" }, "The exercise has mistakes. When they are mended, its music stands here."));
  }

  /** Leaves what takes too long, for a text that is not there any more. */
  giveUp() {
    this.paper.end();
    this.paper = new Engine(this.module);
    this.number = 0;
  }

  /**
   * @param {Strip} strip in which the rows are left out that are in the latest
   * @param {number} number of the strip
   */
  async show(strip, number) {
    const before = this.latest?.rows ?? [];
    for (const row of strip.rows) row.svg ||= before[row.shown].svg;
    this.latest = strip;
    this.number = number;
    if (!this.stand) {
      this.stand = new Stand(this.sound, await this.played(strip));
      this.layStand(this.stand);
      document.documentElement.dataset.followed = "true";
      return;
    }
    this.stand.sheet.show([strip]);
    this.stand.sheet.place.getBoundingClientRect(); // lays it out
    document.documentElement.dataset.drawn = String(Math.round(performance.now() - this.begun));
    document.documentElement.dataset.followed = "false";
    clearTimeout(this.heard);
    this.heard = setTimeout(() => void this.hear().catch(() => {}), this.stand.player.playing ? soon : later);
    await this.showText();
    await this.bar?.follow();
  }

  /**
   * What is needed to play the music of a strip.
   * @param {Strip} strip
   * @returns {Promise<PageContents>}
   */
  async played(strip) {
    return { ...JSON.parse(await this.paper.call("played", gain)), strips: [strip] };
  }

  /** Has what is heard follow what is seen. */
  async hear() {
    const { latest } = this;
    if (!latest) return;
    const contents = await this.played(latest);
    // Meanwhile another text may have been arranged.
    if (latest !== this.latest) return;
    this.stand?.open(contents);
    document.documentElement.dataset.followed = "true";
  }

  /** @param {Stand} stand */
  layStand(stand) {
    const screen = new ScreenView(stand);
    keys.add(screen);
    const bar = new BarPanel(this.editor, stand, (op, ...args) => this.paper.call(op, ...args));
    this.bar = bar;
    const begin = stand.sheet.onTap;
    stand.sheet.onTap = (written, event) => {
      begin(written, event);
      if (!bar.tap(written, event)) bar.choose(written);
    };
    const text = h("pre", { class: "text-view", tabindex: 0 });
    this.text = text;
    const tabs = [["sheet", "Sheet"], ["tab", "Tab"], ["board", "Board"], ["neck", "Neck"]].map(([view, name]) =>
      h("button", { type: "button", role: "tab", id: `tab-${view}`, "aria-controls": "view", "data-view": view, click: () => this.choose(view) }, name),
    );
    this.tabs = h("div", { class: "row tabs", role: "tablist", "aria-label": "Views" }, ...tabs);
    this.tabs.addEventListener("keydown", (event) => {
      const by = event.key === "ArrowRight" ? 1 : event.key === "ArrowLeft" ? -1 : 0;
      const at = tabs.findIndex((t) => t === document.activeElement);
      if (!by || at < 0) return;
      const next = tabs[(at + by + tabs.length) % tabs.length];
      next.focus();
      next.click();
    });
    this.side.replaceChildren(
      h("div", { class: "now" }, h("div", { class: "chords" }, stand.now, h("div", { class: "coming-up" }, stand.after, stand.count)), stand.neck.grip, stand.neck.place),
      h("div", { class: "row above-view" }, this.tabs, this.older),
      h("div", { id: "view", class: "view", role: "tabpanel" }, stand.sheet.place, text),
      dock(stand),
      stand.said,
      h("div", { class: "panels" }, bar.panel, loopPanel(stand), partsPanel(stand), climbPanel(stand), viewPanel(stand), aloudPanel(stand), keysPanel(stand)),
      h("div", { class: "row ways" }, screen.openButton, screen.recordButton),
      h("p", { class: "caution" }, stand.piece.caution),
    );
    keys.listen(stand);
    let width = 0;
    new ResizeObserver(([{ contentRect }]) => {
      if (Math.abs(contentRect.width - width) < 8 || contentRect.width === 0) return;
      width = contentRect.width;
      clearTimeout(this.resized);
      this.resized = setTimeout(() => this.arrange(), 150);
    }).observe(stand.sheet.place);
    stand.sheet.onFit = () => this.arrange();
    this.choose(this.shown);
  }

  /** @param {string} view */
  choose(view) {
    this.shown = view;
    for (const tab of this.tabs?.children ?? []) {
      const chosen = tab.getAttribute("data-view") === view;
      tab.setAttribute("aria-selected", String(chosen));
      tab.setAttribute("tabindex", chosen ? "0" : "-1");
      if (chosen) document.getElementById("view")?.setAttribute("aria-labelledby", tab.id);
    }
    this.showText().catch(() => {});
  }

  async showText() {
    if (!this.stand || !this.text) return;
    const asText = this.shown !== "sheet";
    this.stand.sheet.place.hidden = asText;
    this.text.hidden = !asText;
    if (asText) this.text.textContent = await this.paper.call(this.shown);
  }

  /** @param {string} key */
  async move(key) {
    try {
      if (this.older.textContent) throw new Error("the exercise has mistakes");
      this.editor.write(await this.paper.call("move", this.editor.value, key));
    } catch (error) {
      this.editor.count.textContent = `It cannot be moved: ${/** @type {Error} */ (error).message}`;
      this.form.update();
    }
  }

  async print() {
    const { told } = this.kits;
    told.textContent = "";
    try {
      if (this.older.textContent) throw new Error("the exercise has mistakes");
      this.printed.replaceChildren(...pagesOf(drawingOf(await this.paper.call("printed"))));
      print();
    } catch (error) {
      told.textContent = `Nothing was printed: ${/** @type {Error} */ (error).message}.`;
    }
  }

  makeKit() {
    void this.kits.make(this.exercises.file, this.editor.value);
  }
}

/**
 * Makes a drawing of a sheet. The page's policy allows no style sheet in it: the page
 * has the rules.
 * @param {string} svg
 */
function drawingOf(svg) {
  const bare = svg.replace(/<style>[^]*?<\/style>/g, "");
  const parsed = new DOMParser().parseFromString(bare, "image/svg+xml");
  const drawing = document.importNode(parsed.documentElement, true);
  drawing.setAttribute("class", "music");
  return drawing;
}

/**
 * Divides a sheet, whose pages stand below one another, into its pages.
 * @param {HTMLElement} sheet
 */
function pagesOf(sheet) {
  const [, , width, height] = (sheet.getAttribute("viewBox") ?? "").split(" ").map(Number);
  const count = sheet.querySelectorAll('[id^="page-"]').length;
  return Array.from({ length: count }, (_, i) => {
    const page = /** @type {HTMLElement} */ (sheet.cloneNode(true));
    page.setAttribute("viewBox", `0 ${(i * height) / count} ${width} ${height / count}`);
    page.removeAttribute("width");
    page.removeAttribute("height");
    for (const other of page.querySelectorAll('[id^="page-"]')) if (other.id !== `page-${i + 1}`) other.remove();
    return page;
  });
}

async function main() {
  const contents = JSON.parse(held("contents"));
  const bench = new Workbench(contents);
  await bench.exercises.begin(await bench.paper.call("starter"));
  await bench.paper.ready;
  await bench.sound.ready;
  document.documentElement.dataset.ready = "true";
}

main().catch((error) => {
  document.body.prepend(h("p", { role: "alert", class: "failed" }, `This page needs a newer browser: ${error.message}`));
});

