import { download, h } from "./dom.js";
import { Engine } from "./engine.js";
import { labelled, panel } from "./panels.js";
import { zip } from "./zip.js";

/** @typedef {import("./zip.js").Entry} Entry */

/** The mixes that a kit can hold, and which it does unless one says otherwise. */
const mixes = [
  ["full", "Full: all parts", "usual"],
  ["backing", "Backing: without the guide", "usual"],
  ["guide", "Guide: the line and the click", "usual"],
  ["loop", "Loop: the chart once, to repeat without a seam"],
  ["turns", "Turns: listen, then play"],
  ["click", "Click alone"],
  ["chords", "Chords alone"],
  ["guide-upper", "Upper voice alone"],
  ["guide-lower", "Lower voice alone"],
  ["bass", "Bass alone, where there is one"],
  ["groove", "Groove alone, where there is one"],
];

/** Makes kits, in a worker of their own that can be ended. */
export class KitMaker {
  /**
   * @param {Promise<WebAssembly.Module>} module
   * @param {{html: string, engine: Uint8Array}} practice what the kit's page is made of
   */
  constructor(module, practice) {
    this.module = module;
    this.practice = practice;
    /** @type {Engine | undefined} */
    this.engine = undefined;
    this.told = h("p", { class: "hint", role: "status" });
    this.bar = h("progress", { max: 1, value: 0, hidden: true, "aria-label": "Kit" });
    this.cancel = h("button", { type: "button", hidden: true, click: () => this.stop() }, "Cancel");
    const box = (/** @type {string[]} */ [name, shown, usual]) => {
      const field = h("input", { type: "checkbox", value: name, checked: usual !== undefined });
      return { field, row: labelled(shown, field) };
    };
    this.mixes = mixes.map(box);
    this.files = h("ul", { class: "files", "aria-label": "Single files of the kit" });
    this.holds = panel("What the kit holds", false, ...this.mixes.map((m) => m.row), this.files);
    /** What becomes of it, for beside the button that is pressed. */
    this.state = h("div", { class: "kit-state" }, this.told, this.bar, this.cancel);
  }

  stop() {
    this.engine?.end();
    this.engine = undefined;
  }

  /**
   * Makes a kit and offers it as a zip.
   * @param {string} file the exercise's
   * @param {string} text
   */
  async make(file, text) {
    this.stop();
    const engine = new Engine(this.module);
    this.engine = engine;
    this.bar.hidden = this.cancel.hidden = false;
    this.bar.value = 0;
    this.told.textContent = "The kit is being made.";
    this.files.replaceChildren();
    /** @type {Map<string, Entry>} */
    const made = new Map();
    const chosen = this.mixes.filter((m) => m.field.checked).map((m) => m.field.value);
    try {
      const { name } = JSON.parse(await engine.call("arrange", file, text, 60, "both", 0));
      if (!name) throw new Error("the exercise has mistakes");
      await engine.makeKit([file, this.practice.html, this.practice.engine, chosen.join() || "none"], (part) => {
        if (part.done) this.bar.value = part.done / part.all;
        if (!part.name) return;
        const entry = made.get(part.name) ?? { name: `${name}/${part.name}`, parts: [], size: 0, sum: 0 };
        made.set(part.name, entry);
        if (part.bytes) {
          entry.parts.push(new Blob([part.bytes]));
          entry.size += part.bytes.length;
        } else {
          entry.sum = part.sum;
        }
      });
      download(zip([...made.values()]), `${name}.zip`);
      this.told.textContent = `${name}.zip is saved: ${made.size} files. Single ones are under “What the kit holds”.`;
      this.files.replaceChildren(...[...made].map(([own, entry]) => h("li", {}, h("button", { type: "button", click: () => download(new Blob(entry.parts), own) }, own))));
    } catch (error) {
      this.told.textContent = `No kit was made: ${/** @type {Error} */ (error).message}.`;
    } finally {
      if (this.engine === engine) this.stop();
      this.bar.hidden = this.cancel.hidden = true;
    }
  }
}
