import { recall, remember } from "./store.js";

/** @typedef {import("./stand.js").Stand} Stand */
/** @typedef {{key: string, shown: string, does: string, act: () => void}} Key */

const partKeys = "12345678";
/** @type {("none" | "once" | "always")[]} */
const countIns = ["none", "once", "always"];
const staves = ["both", "tab", "notation"];
const lights = ["", "light", "dark"];

/** The page's keys. They can be turned off, for those who speak to their device. */
export const keys = {
  on: recall("keys") !== false,
  /** @type {Key[]} */
  more: [],

  /** Adds the keys of the screen view. @param {import("./screen.js").ScreenView} screen */
  add(screen) {
    this.more = [
      { key: "f", shown: "F", does: "screen view, and Escape to leave it", act: () => screen.open() },
      { key: "r", shown: "R", does: "record a film, end it", act: () => void screen.record() },
    ];
  },

  /** @param {boolean} on */
  set(on) {
    this.on = on;
    remember("keys", on);
  },

  /**
   * @param {Stand} stand
   * @returns {Key[]}
   */
  list(stand) {
    const { settings } = stand;
    return [
      { key: " ", shown: "Space", does: "play, pause", act: () => stand.toggle() },
      { key: "-", shown: "−", does: "a little slower", act: () => stand.setTempo(stand.settings.tempo - 4) },
      { key: "+", shown: "+", does: "a little faster", act: () => stand.setTempo(stand.settings.tempo + 4) },
      { key: "b", shown: "B", does: "back to the beginning", act: () => stand.restart() },
      { key: "[", shown: "[", does: "the loop begins at this bar", act: () => stand.set({ from: stand.at, to: Math.max(stand.at, settings.to) }) },
      { key: "]", shown: "]", does: "the loop ends with this bar", act: () => stand.set({ from: Math.min(stand.at, settings.from), to: stand.at }) },
      { key: "a", shown: "A", does: "the whole chart", act: () => stand.set({ from: 0, to: stand.piece.bars.length - 1 }) },
      { key: "l", shown: "L", does: "round and round, or to the end", act: () => stand.set({ around: !settings.around }) },
      { key: "n", shown: "N", does: "count-in: none, at the beginning, each time", act: () => stand.set({ countIn: next(countIns, settings.countIn) }) },
      { key: "c", shown: "C", does: "climb: a little faster each time round", act: () => stand.set({ climb: { ...settings.climb, on: !settings.climb.on } }) },
      { key: "s", shown: "S", does: "sheet: both staves, tab, notation", act: () => stand.view.set({ staves: next(staves, stand.view.staves) }) },
      { key: "p", shown: "P", does: "large print", act: () => stand.view.set({ large: !stand.view.large }) },
      { key: "h", shown: "H", does: "left-handed neck and grips", act: () => stand.view.set({ leftHanded: !stand.view.leftHanded }) },
      { key: "d", shown: "D", does: "colours: as the device, light, dark", act: () => stand.view.set({ light: next(lights, stand.view.light) }) },
      { key: "t", shown: "T", does: "take turns", act: () => stand.set({ turns: !stand.settings.turns }) },
      { key: "m", shown: "M", does: "mark the tempo as clean", act: () => stand.practised.markClean(stand.practised.tempo || stand.settings.tempo) },
      { key: "w", shown: "W", does: "say where it is: bar and chord", act: () => stand.aloud.sayWhere() },
      { key: "g", shown: "G", does: "say the chord's grip", act: () => stand.aloud.sayGrip() },
      { key: "i", shown: "I", does: "say the bar in words", act: () => stand.aloud.sayBar() },
      { key: "e", shown: "E", does: "call each chord a beat before it comes", act: () => stand.aloud.setCalls(!stand.aloud.calls) },
      { key: "", shown: `1 to ${stand.piece.parts.length}`, does: "each part on, off", act: () => {} },
      ...this.more,
    ];
  },

  /** @param {Stand} stand */
  listen(stand) {
    document.addEventListener("keydown", (event) => {
      if (!this.on || event.ctrlKey || event.metaKey || event.altKey || taken(event)) return;
      const part = stand.piece.parts[partKeys.indexOf(event.key)];
      const found = this.list(stand).find((k) => k.key === event.key.toLowerCase() || (k.key === "+" && event.key === "="));
      if (part) stand.setPart(part.number, { on: !stand.parts.get(part.number)?.on });
      else if (found) found.act();
      else return;
      event.preventDefault();
    });
  },
};

/**
 * Whether the key belongs to what has the focus: text, a field, or for the space
 * bar a button.
 * @param {KeyboardEvent} event
 */
function taken(event) {
  const target = /** @type {HTMLElement} */ (event.target);
  if (target.isContentEditable || target.matches("textarea, select")) return true;
  if (target instanceof HTMLInputElement) return target.type !== "checkbox" || event.key === " ";
  return event.key === " " && target.matches("button, summary, a");
}

/**
 * The choice after one, and after the last the first.
 * @template T
 * @param {T[]} choices
 * @param {T} chosen
 */
function next(choices, chosen) {
  return choices[(choices.indexOf(chosen) + 1) % choices.length];
}
