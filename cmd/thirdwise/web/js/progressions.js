import { h } from "./dom.js";
import { labelled } from "./panels.js";
import { addToChart } from "./settings.js";

/** @typedef {import("./editor.js").Editor} Editor */

// Progressions that are common practice, by degrees: they fit every key.
const progressions = [
  "1 6 2 5", "1 6 4 5", "1 4 5 1", "1 4 1 5", "1 5 6 4", "6 4 1 5", "2 5 1 1", "1 3 4 5", "1 2 4 1", "1 7 6 5",
  "1 1 1 1 4 4 1 1 5 4 1 5",
];

/**
 * Adds a progression to the chart.
 * @param {Editor} editor
 */
export function progressionTool(editor) {
  const choice = h("select", {}, ...progressions.map((p) => h("option", { value: p }, p.length > 12 ? `twelve bars: ${p}` : p)));
  const add = () => {
    const bars = choice.value.split(" ");
    const rows = [];
    for (let i = 0; i < bars.length; i += 4) rows.push(`| ${bars.slice(i, i + 4).join(" | ")} |`);
    editor.write(addToChart(editor.value, rows, editor.text.selectionStart));
  };
  return h("div", { class: "row" }, labelled("Progression, by degrees", choice), h("button", { type: "button", click: add }, "Add to the chart"));
}
