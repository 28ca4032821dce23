import { h, s } from "./dom.js";
import { fastest, slowest } from "./plan.js";

/** @typedef {import("./stand.js").Stand} Stand */

/**
 * What is always at hand: play, the exercise's tempos, any other, back to the
 * beginning, and why it does not play where it cannot.
 * @param {Stand} stand
 */
export function dock(stand) {
  const play = h("button", { id: "play", class: "play", type: "button", click: () => stand.toggle() }, playSign(false), h("span", {}, "Play"));
  const tempo = h("input", {
    type: "number", id: "tempo", min: slowest, max: fastest, step: 1, inputmode: "numeric",
    change: () => {
      stand.setTempo(tempo.valueAsNumber);
      tempo.value = String(stand.settings.tempo); // what was typed may be out of bounds, or no number
    },
  });
  const nudge = (/** @type {number} */ by, /** @type {string} */ name, /** @type {string} */ sign) =>
    h("button", { type: "button", class: "nudge", "aria-label": name, title: name, click: () => stand.setTempo(stand.settings.tempo + by) }, sign);
  const marks = h("div", { class: "marks", role: "group", "aria-label": "The exercise's tempos" });
  let marked = "";
  const update = () => {
    const { playing } = stand.player;
    play.lastElementChild?.replaceChildren(playing ? "Pause" : "Play");
    play.firstElementChild?.replaceWith(playSign(playing));
    if (document.activeElement !== tempo) tempo.value = String(stand.settings.tempo);
    if (marked !== String(stand.piece.tempos)) {
      marked = String(stand.piece.tempos);
      marks.replaceChildren(
        ...stand.piece.tempos.map((t) =>
          h("button", { type: "button", "data-tempo": t, "aria-label": `Tempo ${t}`, click: () => stand.setTempo(t) }, String(t)),
        ),
      );
    }
    for (const mark of /** @type {Iterable<HTMLElement>} */ (marks.children)) {
      const chosen = Number(mark.dataset.tempo) === stand.settings.tempo;
      if (chosen && mark.getAttribute("aria-pressed") !== "true") marks.scrollLeft = mark.offsetLeft - marks.offsetLeft - mark.offsetWidth; // many do not fit a telephone
      mark.setAttribute("aria-pressed", String(chosen));
    }
  };
  stand.listeners.push(update);
  stand.watchers.push((moment) => {
    const sounding = moment?.bar.tempo;
    if (sounding && stand.settings.climb.on && document.activeElement !== tempo) tempo.value = String(sounding);
  });
  update();
  const back = "Back to the beginning";
  return h(
    "div",
    { class: "dock" },
    stand.trouble,
    play,
    marks,
    h(
      "div",
      { class: "tempo" },
      nudge(-4, "A little slower", "−"),
      h("label", { for: "tempo" }, h("span", {}, "Tempo"), tempo),
      nudge(4, "A little faster", "+"),
    ),
    h("button", { type: "button", class: "nudge", "aria-label": back, title: back, click: () => stand.restart() }, sign("M4 4h3v16H4zM20 4v16L9 12z")),
  );
}

/** @param {boolean} playing */
function playSign(playing) {
  return sign(playing ? "M5 4h5v16h-5zM14 4h5v16h-5z" : "M6 3.5 20 12 6 20.5z");
}

/** @param {string} shape */
function sign(shape) {
  return s("svg", { viewBox: "0 0 24 24", class: "sign", "aria-hidden": "true" }, s("path", { d: shape }));
}
