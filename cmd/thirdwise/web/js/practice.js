import { aloudPanel } from "./aloud.js";
import { h, held, musical } from "./dom.js";
import { dock } from "./dock.js";
import { compile, Engine, fromBase64 } from "./engine.js";
import { keys } from "./keys.js";
import { climbPanel, keysPanel, loopPanel, notePanel, partsPanel, practisedPanel, viewPanel } from "./panels.js";
import { ScreenView } from "./screen.js";
import { Stand } from "./stand.js";

/** @returns {Promise<PageContents>} */
async function contents() {
  const stream = new Blob([fromBase64(held("piece"))]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Response(stream).json();
}

/** @param {Piece} piece */
function facts(piece) {
  const words = [musical(piece.key), piece.meter];
  if (piece.feel !== "straight") words.push(piece.feel);
  if (piece.capo) words.push(`capo ${piece.capo}`);
  words.push(/^\d+$/.test(piece.position) ? `position ${piece.position}` : piece.position === "open" ? "open position" : "whole neck");
  if (piece.tuning.join(" ") !== "E2 A2 D3 G3 B3 E4") words.push(`tuning ${musical(piece.tuning.join(" "))}`);
  return words.join(" · ");
}

async function main() {
  const engine = new Engine(compile(held("engine")));
  const page = await contents();
  const stand = new Stand(engine, page);
  const screen = new ScreenView(stand);
  keys.add(screen);
  document.body.replaceChildren(
    h("a", { class: "skip", href: "#play" }, "To Play"),
    h("header", {}, h("h1", {}, page.piece.title), h("p", { class: "facts" }, facts(page.piece))),
    h(
      "main",
      {},
      h(
        "section",
        { class: "now", "aria-label": "Now" },
        h("div", { class: "chords" }, stand.now, h("div", { class: "coming-up" }, stand.after, stand.count)),
        stand.neck.grip,
        stand.neck.place,
      ),
      stand.sheet.place,
      h("p", { class: "caution" }, page.piece.caution),
      h(
        "section",
        { class: "panels", "aria-label": "How it is practised" },
        notePanel(page.piece), loopPanel(stand), partsPanel(stand), climbPanel(stand), viewPanel(stand), practisedPanel(stand), aloudPanel(stand), keysPanel(stand),
        h("div", { class: "row ways" }, screen.openButton, screen.recordButton),
        stand.said,
      ),
    ),
    h("footer", {}, dock(stand)),
  );
  stand.restore();
  stand.listeners.push(() => stand.keep());
  keys.listen(stand);
  addEventListener("beforeprint", () => stand.sheet.fitPaper());
  addEventListener("afterprint", () => stand.sheet.fit());
  engine.ready.then(() => (document.documentElement.dataset.ready = "true"), () => {}); // the stand tells why not
}

main().catch((error) => {
  document.body.prepend(h("p", { role: "alert", class: "failed" }, `This page needs a newer browser: ${error.message}`));
});
