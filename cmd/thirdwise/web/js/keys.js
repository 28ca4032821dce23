import { recall, remember } from "./store.js";

/** @typedef {import("./stand.js").Stand} Stand */
/** @typedef {{key: string, shown: string, does: string, act: () => void}} Key */

const partKeys = "12345678";

/** The page's keys. They can be turned off, for those who speak to their device. */
export const keys = {
  on: recall("keys") !== false,
  /** @type {Key[]} */
  more: [],

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
      { key: "b", shown: "B", does: "back to the beginning", act: () => restart(stand) },
      { key: "[", shown: "[", does: "the loop begins at this bar", act: () => stand.set({ from: stand.at, to: Math.max(stand.at, settings.to) }) },
      { key: "]", shown: "]", does: "the loop ends with this bar", act: () => stand.set({ from: Math.min(stand.at, settings.from), to: stand.at }) },
      { key: "a", shown: "A", does: "the whole chart", act: () => stand.set({ from: 0, to: stand.piece.bars.length - 1 }) },
      { key: "t", shown: "T", does: "take turns", act: () => stand.set({ turns: !stand.settings.turns }) },
      { key: "m", shown: "M", does: "mark the tempo as clean", act: () => stand.practised.markClean(stand.practised.tempo || stand.settings.tempo) },
      { key: "w", shown: "W", does: "say where it is: bar and chord", act: () => stand.sayWhere() },
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

/** @param {Stand} stand */
function restart(stand) {
  const { playing } = stand.player;
  if (playing) stand.player.stop();
  stand.at = stand.settings.from;
  if (playing) stand.toggle();
  else stand.show(undefined);
}
