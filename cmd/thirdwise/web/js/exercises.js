import { button, download, h } from "./dom.js";
import { labelled } from "./panels.js";
import { ChangedElsewhere, fresh, Shelf } from "./shelf.js";
import { forget, recall, remember } from "./store.js";
import { textEntry, zip } from "./zip.js";

/** @typedef {import("./editor.js").Editor} Editor */
/** @typedef {import("./shelf.js").Kept} Kept */

const pause = 300; // milliseconds after the last key until it is kept
const alive = 4000; // milliseconds after which a window that has not said so is gone
const mostBytes = 1 << 20; // of an exercise

/** The exercises on the shelf, the one that is open, and the files they come from. */
export class ExercisesPanel {
  /**
   * @param {Editor} editor
   * @param {{name: string, text: string}[]} examples
   */
  constructor(editor, examples) {
    this.editor = editor;
    this.window = String(Math.random());
    /** @type {Shelf | undefined} */
    this.shelf = undefined;
    /** @type {Kept} */
    this.open = fresh("exercise.yaml", "");
    /** @type {Map<string, any>} files that exercises came from, by id, where the browser lets a page write them */
    this.handles = new Map();
    this.timer = 0;
    this.opening = false;
    this.conflict = false;
    this.unkept = false; // and that is told
    this.shared = false; // that another window has the exercise open is told
    this.kept = Promise.resolve();
    this.notice = h("div", { class: "notice", role: "alert" });
    this.saved = h("span", { class: "hint", role: "status" });
    this.choice = h("select", { change: () => this.take(this.choice.value) });
    this.name = h("input", { type: "text", change: () => this.rename() });
    const example = h("select", { "aria-label": "Start from", change: () => {
      const chosen = examples.find((e) => e.name === example.value);
      if (chosen) void this.add(chosen.name, chosen.text);
      example.value = "";
    } }, h("option", { value: "" }, "Start from…"), ...examples.map((e) => h("option", { value: e.name }, e.name.replace(/\.yaml$/, "").replace(/-/g, " "))));
    const picker = h("input", { type: "file", accept: ".yaml,.yml,.txt", multiple: true, hidden: true, change: () => this.takeFiles(picker.files) });
    this.bar = h(
      "div",
      { class: "row shelf" },
      labelled("Your exercises", this.choice), labelled("File name", this.name),
      button("New", () => void this.add("exercise.yaml", this.first)),
      example,
      button("Open…", () => this.openFiles(picker)), picker,
      "showDirectoryPicker" in window ? button("Open folder…", () => this.openFolder()) : undefined,
      button("Save", () => this.save()),
      button("All as a zip", () => this.saveAll()),
      button("Delete", () => this.remove()),
      this.saved,
    );
    this.first = "";
    addEventListener("dragover", (event) => event.preventDefault());
    addEventListener("drop", (event) => {
      event.preventDefault();
      this.takeFiles(event.dataTransfer?.files ?? null);
    });
    addEventListener("pagehide", () => this.leave());
    document.addEventListener("visibilitychange", () => document.hidden && this.leave());
    setInterval(() => this.sayAlive(), alive / 4);
  }

  get file() {
    return this.open.name;
  }

  /** @param {string} starter text of a first exercise */
  async begin(starter) {
    this.first = starter;
    try {
      this.shelf = await Shelf.open();
      const all = await this.shelf.all();
      const last = all.find((k) => k.id === recall("open")) ?? all[0];
      if (last) return await this.show(last);
    } catch {
      this.say("This browser keeps nothing for this page: save what you write as a file.");
    }
    await this.add("exercise.yaml", starter);
  }

  /** @param {Kept} kept */
  async show(kept) {
    await this.flush();
    this.sayGone();
    this.open = kept;
    this.conflict = false;
    this.say("");
    remember("open", kept.id);
    const draft = recall(`draft:${kept.id}`); // of a page that was closed before it could keep it
    this.opening = true;
    this.editor.open(kept.text, kept.past, kept.future);
    this.opening = false;
    if (draft?.version === kept.version && draft.text !== kept.text) this.editor.write(draft.text);
    this.name.value = kept.name;
    if (this.isElsewhere()) {
      this.say("This exercise is open in another window, too. What is written there and here does not come together: close one of them.");
      this.shared = true;
    }
    this.sayAlive();
    await this.list();
  }

  async list() {
    const all = (await this.shelf?.all()) ?? [this.open];
    this.choice.replaceChildren(...all.map((k) => h("option", { value: k.id, selected: k.id === this.open.id }, k.name)));
  }

  /** @param {string} id */
  async take(id) {
    const kept = await this.shelf?.read(id);
    if (kept) await this.show(kept);
  }

  /**
   * @param {string} name
   * @param {string} text
   */
  async add(name, text) {
    const kept = fresh(await this.unused(name), text);
    await this.show(kept);
    await this.keep();
    return kept;
  }

  /** A name that no other exercise has. @param {string} name */
  async unused(name) {
    const taken = new Set(((await this.shelf?.all().catch(() => [])) ?? []).map((k) => k.name));
    const base = name.replace(/\.(ya?ml|txt)$/i, "");
    let free = `${base}.yaml`;
    for (let i = 2; taken.has(free); i++) free = `${base}-${i}.yaml`;
    return free;
  }

  rename() {
    const name = this.name.value.trim().replace(/[\\/:*?"<>|]/g, "-") || "exercise";
    this.open.name = /\.ya?ml$/i.test(name) ? name : `${name}.yaml`;
    this.name.value = this.open.name;
    this.editor.onChange();
  }

  /** Told of every change of the text. */
  changed() {
    if (this.opening) return;
    clearTimeout(this.timer);
    this.saved.textContent = "…";
    this.timer = setTimeout(() => (this.kept = this.keep()), pause);
  }

  async flush() {
    if (this.timer) {
      clearTimeout(this.timer);
      this.kept = this.keep();
    }
    await this.kept;
  }

  async keep() {
    this.timer = 0;
    const { editor, open } = this;
    Object.assign(open, { text: editor.value, past: editor.past.slice(), future: editor.future.slice() });
    if (!this.shelf || this.conflict) return;
    try {
      await this.shelf.keep(open);
      this.saved.textContent = "Kept in this browser";
      if (this.unkept) this.say("");
      this.unkept = false;
      await this.list();
    } catch (error) {
      this.saved.textContent = "Not kept";
      this.unkept = true;
      if (error instanceof ChangedElsewhere) this.tellConflict();
      else if (/** @type {DOMException} */ (error)?.name === "QuotaExceededError") this.say("The browser's storage is full: save this exercise as a file, or delete others.");
      else this.say(`It could not be kept: ${/** @type {Error} */ (error)?.message ?? error}. Save it as a file.`);
    }
  }

  /** The later of two windows on one exercise is told. */
  tellConflict() {
    this.conflict = true;
    this.shared = false;
    const mine = h("button", { type: "button", click: async () => {
      this.conflict = false;
      this.say("");
      await this.shelf?.keep(this.open, true).catch(() => {});
    } }, "Keep what is here");
    const theirs = h("button", { type: "button", click: () => this.take(this.open.id) }, "Take what is there");
    this.notice.replaceChildren(h("p", {}, "Another window has changed this exercise. What is here is not kept until you choose."), h("div", { class: "row" }, mine, theirs));
  }

  /** @param {string} text */
  say(text) {
    this.shared = false;
    this.notice.replaceChildren(...(text ? [h("p", {}, text)] : []));
  }

  get sign() {
    return `window:${this.open.id}`;
  }

  /** Whether another window has said of late that it has the exercise open. */
  isElsewhere() {
    const other = recall(this.sign);
    return other !== undefined && other.window !== this.window && Date.now() - other.at < alive;
  }

  sayAlive() {
    if (document.hidden || this.isElsewhere()) return;
    if (this.shared) this.say(""); // the other is gone
    remember(this.sign, { window: this.window, at: Date.now() });
  }

  /** So that a page that is loaded again does not take itself for another. */
  sayGone() {
    if (recall(this.sign)?.window === this.window) forget(this.sign);
  }

  /** What is not kept yet is put where it can be put at once. */
  leave() {
    this.sayGone();
    if (!this.timer && this.open.text === this.editor.value) return;
    remember(`draft:${this.open.id}`, { version: this.open.version, text: this.editor.value });
    void this.flush();
  }

  /** @param {HTMLInputElement} picker */
  async openFiles(picker) {
    if (!("showOpenFilePicker" in window)) {
      picker.click();
      return;
    }
    try {
      const handles = await /** @type {any} */ (window).showOpenFilePicker({ multiple: true });
      for (const handle of handles) await this.takeFile(await handle.getFile(), handle);
    } catch {
      // Nothing was chosen.
    }
  }

  async openFolder() {
    try {
      const folder = await /** @type {any} */ (window).showDirectoryPicker({ mode: "readwrite" });
      for await (const handle of folder.values()) {
        if (handle.kind === "file" && /\.ya?ml$/i.test(handle.name)) await this.takeFile(await handle.getFile(), handle);
      }
    } catch {
      // Nothing was chosen.
    }
  }

  /** @param {FileList | null} files */
  async takeFiles(files) {
    for (const file of files ?? []) await this.takeFile(file, undefined);
  }

  /**
   * @param {File} file
   * @param {any} handle
   */
  async takeFile(file, handle) {
    if (file.size > mostBytes) {
      this.say(`${file.name} has ${file.size} bytes; an exercise has at most ${mostBytes}.`);
      return;
    }
    const kept = await this.add(file.name, await file.text());
    if (handle) this.handles.set(kept.id, handle);
  }

  async save() {
    await this.flush();
    const text = this.editor.value;
    try {
      let handle = this.handles.get(this.open.id);
      if (!handle && "showSaveFilePicker" in window) {
        handle = await /** @type {any} */ (window).showSaveFilePicker({ suggestedName: this.open.name });
        this.handles.set(this.open.id, handle);
      }
      if (!handle) {
        download(new Blob([text], { type: "application/yaml" }), this.open.name);
        return;
      }
      const file = await handle.createWritable();
      await file.write(text);
      await file.close();
      this.saved.textContent = `Saved as ${handle.name}`;
    } catch (error) {
      if (/** @type {DOMException} */ (error).name !== "AbortError") this.say(`It could not be saved: ${/** @type {Error} */ (error).message}.`);
    }
  }

  async saveAll() {
    await this.flush();
    const all = (await this.shelf?.all()) ?? [this.open];
    download(zip(all.map((k) => textEntry(k.name, k.text))), "exercises.zip");
  }

  async remove() {
    const { id, name } = this.open;
    if (!confirm(`Delete ${name} from this browser?`)) return;
    clearTimeout(this.timer);
    this.timer = 0;
    await this.shelf?.remove(id);
    const next = (await this.shelf?.all())?.[0];
    if (next) await this.show(next);
    else await this.add("exercise.yaml", this.first);
  }
}
