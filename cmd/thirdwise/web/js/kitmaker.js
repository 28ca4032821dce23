import { download, h } from "./dom.js";
import { Engine } from "./engine.js";
import { zip } from "./zip.js";

/** @typedef {import("./zip.js").Entry} Entry */

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
    this.files = h("ul", { class: "files" });
    this.place = h("div", { class: "kit" }, this.told, h("div", { class: "row" }, this.bar, this.cancel), this.files);
  }

  stop() {
    this.engine?.end();
    this.engine = undefined;
  }

  /**
   * Makes a kit and offers it as a zip.
   * @param {string} file the exercise's
   * @param {string} text
   * @param {string} name of the kit
   */
  async make(file, text, name) {
    this.stop();
    const engine = new Engine(this.module);
    this.engine = engine;
    this.bar.hidden = this.cancel.hidden = false;
    this.bar.value = 0;
    this.told.textContent = "The kit is being made.";
    this.files.replaceChildren();
    /** @type {Map<string, Entry>} */
    const made = new Map();
    try {
      await engine.call("arrange", file, text, 60, 0);
      await engine.makeKit([file, this.practice.html, this.practice.engine], (part) => {
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
      this.told.textContent = `${name}.zip is saved: ${made.size} files. Single files:`;
      this.files.replaceChildren(...[...made].map(([own, entry]) => h("li", {}, h("button", { type: "button", click: () => download(new Blob(entry.parts), own) }, own))));
    } catch (error) {
      this.told.textContent = `No kit was made: ${/** @type {Error} */ (error).message}.`;
    } finally {
      if (this.engine === engine) this.stop();
      this.bar.hidden = this.cancel.hidden = true;
    }
  }
}
