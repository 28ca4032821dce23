import { h, musical } from "./dom.js";
import { labelled, panel } from "./panels.js";
import { readSetting, readText, writeSetting, writeText } from "./settings.js";

/** @typedef {import("./editor.js").Editor} Editor */

const tonics = ["C", "G", "D", "A", "E", "B", "F#", "C#", "F", "Bb", "Eb", "Ab", "Db", "Gb", "Cb"];
const modes = ["major", "minor", "harmonic minor", "melodic minor", "dorian", "phrygian", "lydian", "mixolydian", "locrian"];
const meters = ["2/4", "3/4", "4/4", "5/4", "7/4", "2/2", "6/8", "7/8", "9/8", "12/8"];

/** What each field reads and writes, and what an exercise has without it. */
const fields = [
  { path: "meter", name: "Meter", options: meters, usual: "4/4" },
  { path: "feel", name: "Feel", options: ["straight", "swing", "swing sixteenths"], usual: "straight" },
  { path: "line.grid", name: "Grid", options: ["quarters", "eighths", "triplets", "sixteenths"], usual: "eighths" },
  { path: "guitar.position", name: "Position", options: ["open", ...Array.from({ length: 15 }, (_, i) => String(i + 1)), "free"], usual: "the lowest" },
  { path: "line.variant", name: "Variant of the line", options: ["2", "3", "4", "5", "6", "7", "8", "9"], usual: "the best line" },
  { path: "line.push", name: "Push arrivals", options: ["on", "off"], usual: "off" },
  { path: "bass", name: "Bass", options: ["none", "root-fifth", "walking"], usual: "none" },
  { path: "groove", name: "Groove", options: ["none", "shaker", "brush"], usual: "none" },
  { path: "click", name: "Click", options: ["always", "count-in"], usual: "always" },
  { path: "student", name: "Line for the student's name", options: ["yes", "no"], usual: "no" },
  { path: "numerals", name: "Roman numerals", options: ["yes", "no"], usual: "yes" },
];
const numbers = [
  { path: "passes", name: "Times through", min: 1, max: 100, usual: "2" },
  { path: "count-in", name: "Bars of count-in", min: 1, max: 8, usual: "1" },
  { path: "guitar.capo", name: "Capo", min: 0, max: 12, usual: "0" },
  { path: "climb", name: "Climb, beats per minute", min: 1, max: 50, usual: "" },
  { path: "turns", name: "Turns, bars", min: 1, max: 64, usual: "a pass" },
];
const words = [
  { path: "title", name: "Title", usual: "" },
  { path: "subtitle", name: "Subtitle", usual: "" },
  { path: "by", name: "By", usual: "" },
  { path: "tempos", name: "Tempos", usual: "60, 80, 100" },
  { path: "line.rhythm", name: "Rhythm of the line", usual: "made from density and grid" },
  { path: "guitar.tuning", name: "Tuning", usual: "E2 A2 D3 G3 B3 E4" },
  { path: "strum", name: "Strum", usual: "the meter's own" },
  { path: "pick", name: "Picking instead of a strum", usual: "" },
];

/**
 * The settings as fields that write into the text.
 * @param {Editor} editor
 * @param {(key: string) => void} move moves the exercise to a tonic
 */
export function settingsForm(editor, move) {
  /** @type {(() => void)[]} */
  const updates = [];
  const write = (/** @type {string} */ path, /** @type {string} */ value) => editor.write(writeSetting(editor.value, path, value || undefined));
  const read = (/** @type {string} */ path) => readSetting(editor.value, path) ?? "";

  const choices = fields.map(({ path, name, options, usual }) => {
    const field = h("select", { change: () => write(path, field.value) }, h("option", { value: "" }, `(${usual})`), ...options.map((o) => h("option", {}, o)));
    updates.push(() => {
      const value = read(path);
      if (value && !options.includes(value)) field.append(h("option", {}, value));
      field.value = value;
    });
    return labelled(name, field);
  });
  const counts = numbers.map(({ path, name, min, max, usual }) => {
    const field = h("input", { type: "number", min, max, placeholder: usual, change: () => write(path, field.value) });
    updates.push(() => (field.value = read(path)));
    return labelled(name, field);
  });
  const texts = words.map(({ path, name, usual }) => {
    const list = path === "tempos";
    const field = h("input", {
      type: "text", placeholder: usual,
      change: () => write(path, list && field.value ? `[${field.value.split(/[\s,]+/).filter(Boolean).join(", ")}]` : field.value),
    });
    updates.push(() => (field.value = list ? read(path).replace(/^\[(.*)\]$/, "$1") : read(path)));
    return labelled(name, field);
  });
  const tonic = h("select", { change: () => move(tonic.value) }, ...tonics.map((t) => h("option", { value: t }, musical(t))));
  const mode = h("select", { change: () => write("key", `${tonic.value} ${mode.value}`) }, ...modes.map((m) => h("option", {}, m)));
  updates.push(() => {
    const [first, ...rest] = read("key").split(/\s+/);
    if (tonics.includes(first)) tonic.value = first;
    if (modes.includes(rest.join(" "))) mode.value = rest.join(" ");
    else if (rest.length === 0) mode.value = "major";
  });
  const density = h("input", { type: "range", min: 0, max: 100, step: 5, input: () => write("line.density", `${density.value}%`) });
  const shown = h("output", {});
  updates.push(() => {
    const value = parseInt(read("line.density"), 10);
    density.valueAsNumber = Number.isNaN(value) ? 50 : value;
    shown.textContent = `${density.value} %`;
  });
  const note = h("textarea", { rows: 3, change: () => editor.write(writeText(editor.value, "note", note.value.trim())) });
  updates.push(() => (note.value = readText(editor.value, "note") ?? ""));
  const update = () => {
    for (const u of updates) u();
  };
  const densityField = labelled("Density", density);
  densityField.append(shown);
  const form = panel(
    "Settings", matchMedia("(min-width: 60em)").matches,
    h("div", { class: "fields" }, labelled("Key: move to", tonic), labelled("Mode", mode), densityField, ...choices, ...counts),
    h("div", { class: "fields wide" }, ...texts),
    labelled("Note to the student", note),
  );
  return { form, update };
}
