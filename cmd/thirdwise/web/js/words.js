// What is played, in words: for those who hear it or feel it instead of seeing it.
import { noteOf, spoken } from "./dom.js";
import { fretsOf } from "./grip.js";

/**
 * Writes a chord's symbol as it is said.
 * @param {string} symbol
 */
export function chordInWords(symbol) {
  const found = /^([A-G][#b]*)([^/]*)(?:\/(.*))?$/.exec(symbol);
  if (!found) return symbol === "N.C." ? "no chord" : symbol;
  const [, root, quality, bass] = found;
  const words = quality
    .replace(/[()]/g, " ").replace(/maj/gi, " major ").replace(/dim/g, " diminished ").replace(/aug|\+/g, " augmented ")
    .replace(/(sus|add)/g, " $1 ").replace(/^m(?! ?a)/, " minor ").replace(/#(?=\d)/g, " sharp ").replace(/b(?=\d)/g, " flat ");
  return `${spoken(root)} ${words}${bass ? ` over ${spoken(bass)}` : ""}`.replace(/\s+/g, " ").trim();
}

/**
 * What a player calls a chord: behind a capo, its shape.
 * @param {Chord} chord
 */
export const called = ({ shape, symbol }) => shape ?? symbol;

/** @param {number} fret */
const fretInWords = (fret) => (fret < 0 ? "not played" : fret === 0 ? "open" : `fret ${fret}`);

/** @param {Chord} chord */
export function gripInWords(chord) {
  const name = chordInWords(called(chord)) + (chord.shape ? `, sounding ${chordInWords(chord.symbol)}` : "");
  if (!chord.grip) return `${name}.`;
  const frets = fretsOf(chord.grip);
  return `${name}: ${frets.map((fret, i) => `string ${frets.length - i} ${fretInWords(fret)}`).join(", ")}.`;
}

/** @param {Third} third */
export function thirdInWords({ lower, upper }) {
  const name = (/** @type {Note} */ { pitch }) => spoken(noteOf(pitch));
  const place = (/** @type {Note} */ { string, fret }) => `string ${string} ${fretInWords(fret)}`;
  return `${name(lower)} and ${name(upper)}, ${place(lower)}, ${place(upper)}`;
}

/**
 * Says where in a bar a tick lies: the beat, or where the meter counts eighths the
 * eighth.
 * @param {Piece} piece
 * @param {number} tick from the bar's start
 */
function countInWords(piece, tick) {
  const unit = (4 * piece.ticksPerQuarter) / Number(/\/(\d+)/.exec(piece.meter)?.[1]);
  const rest = tick % unit;
  const count = `${unit < piece.ticksPerQuarter ? "Eighth" : "Beat"} ${Math.floor(tick / unit) + 1}`;
  if (rest === 0) return count;
  if (2 * rest === unit) return `${count} and`;
  let parts = 3;
  while ((rest * parts) % unit) parts++;
  return `${count}, part ${(rest * parts) / unit + 1} of ${parts}`;
}

/**
 * Says what is played in a bar: its chords, and the thirds of the line.
 * @param {Piece} piece
 * @param {number} index
 */
export function barInWords(piece, index) {
  const bar = piece.bars[index];
  const end = bar.tick + piece.barTicks;
  /** @type {{tick: number, words: string}[]} */
  const events = bar.chords.map((c) => ({ tick: c.tick, words: chordInWords(called(c)) }));
  piece.line.forEach((third, i) => {
    const { tick, length } = third;
    if (tick < bar.tick && tick + length > bar.tick) events.push({ tick: bar.tick, words: "the third before is held" });
    if (tick >= bar.tick && tick < end) events.push({ tick, words: thirdInWords(third) + (third.leadsBack ? ", not the last time" : "") });
    const over = tick + length;
    const next = piece.line[i + 1]?.tick ?? Infinity;
    if (over < next && over >= bar.tick && over < end) events.push({ tick: over, words: "rest" });
  });
  events.sort((a, b) => a.tick - b.tick);
  const counts = [...new Set(events.map((e) => e.tick))];
  const told = counts.map((tick) => `${countInWords(piece, tick - bar.tick)}: ${events.filter((e) => e.tick === tick).map((e) => e.words).join("; ")}`);
  return `Bar ${bar.number}. ${told.join(". ")}.`;
}
