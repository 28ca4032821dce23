import { s } from "./dom.js";

/**
 * Reads a grip: frets from the lowest string up, "x" for a string that is not
 * played; frets above 9 have dashes between them.
 * @param {string} grip
 */
export function fretsOf(grip) {
  const signs = grip.includes("-") ? grip.split("-") : [...grip];
  return signs.map((sign) => (sign === "x" ? -1 : Number(sign)));
}

/**
 * Draws a grip as chord books do.
 * @param {string} grip
 * @param {string} name of the drawing
 * @param {boolean} leftHanded
 */
export function gripDrawing(grip, name, leftHanded) {
  const frets = fretsOf(grip);
  const stopped = frets.filter((f) => f > 0);
  const high = Math.max(...stopped, 0);
  const low = high <= 4 ? 1 : Math.min(...stopped);
  const rows = Math.max(4, high - low + 1);
  const width = (frets.length - 1) * 12;
  const x = (/** @type {number} */ i) => 6 + (leftHanded ? frets.length - 1 - i : i) * 12;
  const y = (/** @type {number} */ fret) => 16 + (fret - low + 0.5) * 14;
  const drawing = s("svg", {
    viewBox: `0 0 ${width + 28} ${rows * 14 + 20}`, class: "grip-drawing", role: "img", "aria-label": name,
  });
  frets.forEach((fret, i) => {
    drawing.append(s("line", { x1: x(i), y1: 16, x2: x(i), y2: 16 + rows * 14, class: "fret" }));
    if (fret < 0) drawing.append(s("text", { x: x(i), y: 12, class: "number" }, "×"));
    else if (fret === 0) drawing.append(s("circle", { cx: x(i), cy: 8.5, r: 3, class: "unstopped" }));
    else drawing.append(s("circle", { cx: x(i), cy: y(fret), r: 4.6, class: "finger" }));
  });
  for (let row = 0; row <= rows; row++) {
    const thick = row === 0 && low === 1;
    drawing.append(s("line", { x1: 6, x2: 6 + width, y1: 16 + row * 14, y2: 16 + row * 14, class: thick ? "nut" : "fret" }));
  }
  if (low > 1) drawing.append(s("text", { x: width + 18, y: y(low) + 4, class: "number" }, String(low)));
  return drawing;
}
