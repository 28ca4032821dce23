import { h } from "./dom.js";
import { keys } from "./keys.js";
import { fastest, slowest } from "./plan.js";

/** @typedef {import("./stand.js").Stand} Stand */

let lastId = 0;

/**
 * A labelled field.
 * @param {string} name
 * @param {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement} field
 */
export function labelled(name, field) {
  field.id ||= `field-${++lastId}`;
  const label = h("label", { for: field.id }, name);
  const check = field instanceof HTMLInputElement && field.type === "checkbox";
  return h("div", { class: check ? "field check" : "field" }, ...(check ? [field, label] : [label, field]));
}

/**
 * @param {string} title
 * @param {boolean} open
 * @param {...(Node | string)} children
 */
export function panel(title, open, ...children) {
  return h("details", { class: "panel", open }, h("summary", {}, h("h2", {}, title)), h("div", { class: "panel-body" }, ...children));
}

/**
 * What the teacher tells the student, if anything.
 * @param {Piece} piece
 */
export function notePanel({ note }) {
  return note?.length ? panel("From your teacher", true, ...note.map((paragraph) => h("p", {}, paragraph))) : undefined;
}

/** @type {Record<string, string>} */
const partNames = {
  click: "Click", chords: "Chords", "guide-upper": "Guide, upper voice", "guide-lower": "Guide, lower voice", bass: "Bass", groove: "Groove",
};
/** @type {Record<string, string>} */
const presetNames = { full: "All", backing: "Without the guide", guide: "Guide and click" };

/** @param {Stand} stand */
export function partsPanel(stand) {
  const rows = h("div", { class: "parts" });
  const presets = h("div", { class: "row", role: "group", "aria-label": "Mixes" });
  const turns = h("input", { type: "checkbox", change: () => stand.set({ turns: turns.checked }) });
  let drawn = "";
  const update = () => {
    const { piece } = stand;
    const key = JSON.stringify([piece.parts, piece.presets]);
    if (key !== drawn) {
      drawn = key;
      rows.replaceChildren(...piece.parts.map((part) => partRow(stand, part)));
      const click = piece.parts[0].number;
      presets.replaceChildren(
        ...[...piece.presets, { name: "Click alone", parts: [click] }].map((mix) =>
          h("button", { type: "button", "data-parts": mix.parts.join(), click: () => stand.choose(mix.parts) }, presetNames[mix.name] ?? mix.name),
        ),
      );
    }
    for (const part of piece.parts) {
      const state = stand.parts.get(part.number);
      const [on, level] = rows.querySelectorAll(`[data-part="${part.number}"] input`);
      if (!state || !on || !level) continue;
      /** @type {HTMLInputElement} */ (on).checked = state.on;
      if (level !== document.activeElement) /** @type {HTMLInputElement} */ (level).valueAsNumber = Math.round(state.level * 100);
    }
    const heard = piece.parts.filter((p) => stand.parts.get(p.number)?.on).map((p) => p.number).sort().join();
    for (const button of presets.children) {
      const own = (button.getAttribute("data-parts") ?? "").split(",").sort().join();
      button.setAttribute("aria-pressed", String(own === heard));
    }
    turns.checked = stand.settings.turns;
  };
  stand.listeners.push(update);
  update();
  return panel("Parts", true, presets, rows, labelled("Take turns: listen to the guide once, play it the next time", turns));
}

/**
 * @param {Stand} stand
 * @param {Part} part
 */
function partRow(stand, part) {
  const name = partNames[part.name] ?? part.name;
  const on = h("input", { type: "checkbox", id: `part-${part.number}`, change: () => stand.setPart(part.number, { on: on.checked }) });
  const level = h("input", {
    type: "range", min: 0, max: 200, step: 5, "aria-label": `${name}, loudness in per cent`,
    input: () => stand.setPart(part.number, { level: level.valueAsNumber / 100 }),
  });
  return h("div", { class: "part", "data-part": part.number }, on, h("label", { for: on.id }, name), level);
}

/** @param {Stand} stand */
export function loopPanel(stand) {
  const from = h("input", { class: "loop-from", type: "number", change: () => set(from) });
  const to = h("input", { class: "loop-to", type: "number", change: () => set(to) });
  const set = (/** @type {HTMLInputElement} */ entered) => {
    const numbers = stand.piece.bars.map((b) => b.number);
    const [least, most] = [Math.min(...numbers), Math.max(...numbers)];
    const { settings } = stand;
    let [first, last] = [numbers[settings.from], numbers[settings.to]];
    if (!Number.isNaN(entered.valueAsNumber)) {
      const bar = Math.max(least, Math.min(most, Math.round(entered.valueAsNumber)));
      // The other end gives way: who wants bars 5 to 6 types 5 first.
      [first, last] = entered === from ? [bar, Math.max(bar, last)] : [Math.min(bar, first), bar];
    }
    stand.loopWritten(stand.written(numbers.indexOf(first)), stand.written(numbers.indexOf(last)));
    show();
  };
  const show = () => {
    const { piece, settings } = stand;
    from.valueAsNumber = piece.bars[settings.from].number;
    to.valueAsNumber = piece.bars[settings.to].number;
  };
  const around = h("input", { type: "checkbox", change: () => stand.set({ around: around.checked }) });
  const count = h(
    "select",
    { class: "count-in", change: () => stand.set({ countIn: /** @type {any} */ (count.value) }) },
    ...[["none", "No count-in"], ["once", "Count-in at the beginning"], ["always", "Count-in each time round"]].map(([value, text]) => h("option", { value }, text)),
  );
  const sections = h("div", { class: "row", role: "group", "aria-label": "What goes round" });
  let drawn = "";
  const update = () => {
    const { piece, settings } = stand;
    for (const field of [from, to]) {
      field.min = String(Math.min(...piece.bars.map((b) => b.number))); // 0 where there is a pickup
      field.max = String(Math.max(...piece.bars.map((b) => b.number)));
    }
    if (![from, to].some((field) => field === document.activeElement)) show();
    around.checked = settings.around;
    count.value = settings.countIn;
    count.disabled = piece.countIn === 0;
    const phrases = phrasesOf(piece);
    if (drawn !== JSON.stringify(phrases)) {
      drawn = JSON.stringify(phrases);
      sections.replaceChildren(
        ...phrases.map((p) => h("button", { type: "button", "data-range": `${p.from}-${p.to}`, click: () => stand.set({ from: p.from, to: p.to }) }, p.name)),
      );
    }
    for (const button of sections.children) {
      button.setAttribute("aria-pressed", String(button.getAttribute("data-range") === `${settings.from}-${settings.to}`));
    }
  };
  stand.listeners.push(update);
  update();
  return panel(
    "Loop", true, sections,
    h("div", { class: "row" }, labelled("From bar", from), labelled("to bar", to)),
    h("p", { class: "hint" }, "Or drag over bars on the sheet; with a finger, rest on the first one for a moment. While nothing plays, tap a bar of the loop to begin there."),
    labelled("Round and round, until I stop it", around), labelled("Count-in", count),
  );
}

/**
 * The whole chart and its phrases: sections, divided into four bars where they
 * are longer.
 * @param {Piece} piece
 */
function phrasesOf(piece) {
  const last = piece.bars.length - 1;
  const all = [{ name: "Whole chart", from: 0, to: last }];
  if (last < 4) return all;
  const number = (/** @type {number} */ bar) => piece.bars[bar].number;
  const add = (/** @type {string} */ name, /** @type {number} */ from, /** @type {number} */ to) => {
    // A section that comes again is offered once, and one that is all of the chart not again.
    if (!all.some((p) => (p.name === name && number(p.from) === number(from)) || (p.from === from && p.to === to))) all.push({ name, from, to });
  };
  /** @type {Set<number>} */
  const seen = new Set([0]); // a pickup is too little; a repeat comes to its bars again, and to other endings
  const starts = [...new Set([0, ...piece.bars.flatMap((b, i) => (b.section ? [i] : []))])];
  starts.forEach((start, i) => {
    const end = (starts[i + 1] ?? last + 1) - 1;
    const name = piece.bars[start].section;
    if (name) add(name, start, end);
    if (end - start < 4 && name && !seen.has(number(start))) return;
    for (let from = start, to = start; from <= end; from = to + 1) {
      to = from;
      if (seen.has(number(from))) continue;
      while (to < end && to < from + 3 && number(to + 1) === number(to) + 1) to++;
      for (let bar = from; bar <= to; bar++) seen.add(number(bar));
      add(from === to ? `Bar ${number(from)}` : `Bars ${number(from)}–${number(to)}`, from, to);
    }
  });
  return all;
}

/** @param {Stand} stand */
export function climbPanel(stand) {
  const on = h("input", { type: "checkbox", change: () => set() });
  const by = h("input", { type: "number", min: 1, max: 50, change: () => set() });
  const goal = h("input", { type: "number", min: slowest, max: fastest, change: () => set() });
  const set = () => {
    const { climb } = stand.settings;
    stand.set({
      climb: {
        on: on.checked,
        by: Math.max(1, Math.min(50, Math.round(by.valueAsNumber) || climb.by)),
        goal: Math.max(slowest, Math.min(fastest, Math.round(goal.valueAsNumber) || climb.goal)),
      },
    });
    by.valueAsNumber = stand.settings.climb.by; // what was typed may be out of bounds
    goal.valueAsNumber = stand.settings.climb.goal;
  };
  const update = () => {
    const { climb } = stand.settings;
    on.checked = climb.on;
    if (document.activeElement !== by) by.valueAsNumber = climb.by;
    if (document.activeElement !== goal) goal.valueAsNumber = climb.goal;
  };
  stand.listeners.push(update);
  update();
  return panel("Climb", false, labelled("Faster each time round", on), h("div", { class: "row" }, labelled("Beats per minute faster", by), labelled("up to", goal)));
}

/** @param {Stand} stand */
export function practisedPanel(stand) {
  const { practised } = stand;
  const told = h("p", {});
  const mark = h("button", { type: "button", click: () => practised.markClean(practised.tempo || stand.settings.tempo) }, "That was clean");
  const forget = h("button", { type: "button", click: () => practised.forget() }, "Delete this record");
  const update = () => {
    const clean = practised.clean ? `highest clean tempo ${practised.clean}` : "no tempo marked as clean yet";
    told.textContent = `${practised.rounds} ${practised.rounds === 1 ? "time" : "times"} round, ${clean}.`;
  };
  practised.onChange = update;
  update();
  return panel("Practised", false, told, h("div", { class: "row" }, mark, forget), h("p", { class: "hint" }, "Kept in this browser and nowhere else."));
}

/** @param {Stand} stand */
export function viewPanel(stand) {
  const { view } = stand;
  /** @param {"leftHanded" | "large" | "neck"} name */
  const box = (name) => {
    const field = h("input", { type: "checkbox", change: () => view.set({ [name]: field.checked }) });
    updates.push(() => (field.checked = view[name]));
    return field;
  };
  /**
   * @param {"light" | "staves"} name
   * @param {string[][]} options
   */
  const choice = (name, options) => {
    const field = h("select", { change: () => view.set({ [name]: field.value }) }, ...options.map(([value, text]) => h("option", { value }, text)));
    updates.push(() => (field.value = view[name]));
    return field;
  };
  /** @type {(() => void)[]} */
  const updates = [];
  const shown = panel(
    "View", false,
    labelled("Sheet", choice("staves", [["both", "Notation and tab"], ["tab", "Tab"], ["notation", "Notation"]])),
    labelled("Large print", box("large")), labelled("Neck", box("neck")), labelled("Left-handed neck and grips", box("leftHanded")),
    labelled("Colours", choice("light", [["", "As the device"], ["light", "Light"], ["dark", "Dark"]])),
  );
  view.onChange = () => {
    for (const update of updates) update();
  };
  view.apply();
  return shown;
}

/** @param {Stand} stand */
export function keysPanel(stand) {
  const on = h("input", { type: "checkbox", checked: keys.on, change: () => keys.set(on.checked) });
  const list = h("dl", { class: "keys" }, ...keys.list(stand).flatMap((k) => [h("dt", {}, h("kbd", {}, k.shown)), h("dd", {}, k.does)]));
  return panel("Keys", false, labelled("Single keys work", on), list);
}
