// Writes the reference tables of this folder with the npm package tonal 6.4.3,
// a general-purpose theory library. The tests of package theory are held to them.
//
//	npm install --prefix /tmp/tonal tonal@6.4.3
//	NODE_PATH=/tmp/tonal/node_modules node generate.mjs [DIR]
//
// DIR is where the tables go, this folder unless named. Everything in a table is
// what tonal answers; what is left out of one, and why, is said where it is.
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const version = "6.4.3";
const require = createRequire(import.meta.url); // unlike import, it follows NODE_PATH
const { Chord, ChordType, Interval, Key, Mode, Note, Progression, Scale } = require("tonal");
const found = JSON.parse(readFileSync(join(dirname(require.resolve("tonal")), "../package.json"))).version;
if (found !== version) throw new Error(`tonal ${found} is installed; the tables are made with ${version}`);

const folder = process.argv[2] ?? dirname(fileURLToPath(import.meta.url));

function write(name, columns, rows) {
  const head = [`# tonal ${version}, by generate.mjs`, `# ${columns.join("\t")}`];
  for (const row of rows) {
    if (row.some((cell) => cell === "" || cell == null)) throw new Error(`${name}: a gap in ${row}`);
  }
  writeFileSync(join(folder, name), [...head, ...rows.map((row) => row.join("\t"))].join("\n") + "\n");
}

// keys lists the fifteen signatures by the nine scales. The degree is that of
// the signature's major scale on which the mode's tonic stands.
const modes = [
  ["major", 1],
  ["minor", 6],
  ["harmonic minor", 6],
  ["melodic minor", 6],
  ["dorian", 2],
  ["phrygian", 3],
  ["lydian", 4],
  ["mixolydian", 5],
  ["locrian", 7],
];
const keys = [];
for (const [mode, degree] of modes) {
  for (let fifths = -7; fifths <= 7; fifths++) {
    const relative = Scale.get(`${Note.transposeFifths("C", fifths)} major`).notes;
    const tonic = relative[degree - 1];
    const minor = mode.endsWith("minor");
    // For the church modes tonal has no signature of its own; their scales are
    // those of the relative major key, which has one.
    const signature = minor ? Key.minorKey(tonic).alteration : Key.majorKey(relative[0]).alteration;
    keys.push({ name: `${tonic} ${mode}`, tonic, mode, signature, notes: Scale.get(`${tonic} ${mode}`).notes });
  }
}

write(
  "scales.tsv",
  ["key", "sharps (flats negative)", "tones from the tonic up"],
  keys.map((k) => [k.name, k.signature, k.notes.join(" ")]),
);

write(
  "thirds.tsv",
  ["key", "degree", "lower", "upper", "interval"],
  keys.flatMap((k) =>
    k.notes.map((lower, i) => {
      const upper = k.notes[(i + 2) % 7];
      return [k.name, i + 1, lower, upper, Interval.distance(lower, upper)];
    }),
  ),
);

// family returns the key's triads and sevenths as tonal names them.
function family(k) {
  const kind = { minor: "natural", "harmonic minor": "harmonic", "melodic minor": "melodic" }[k.mode];
  if (!kind) return [Mode.triads(k.mode, k.tonic), Mode.seventhChords(k.mode, k.tonic)];
  const { triads, chords } = Key.minorKey(k.tonic)[kind];
  const sevenths = [...chords];
  if (kind === "melodic") {
    // tonal gives the melodic minor's tonic a sixth, as players like to, and no
    // seventh chord. The stack of thirds is named by its detection instead.
    sevenths[0] = Chord.detect([0, 2, 4, 6].map((i) => k.notes[i]))[0];
  }
  return [triads, sevenths];
}

write(
  "families.tsv",
  ["key", "triads on degrees 1 to 7", "seventh chords on degrees 1 to 7"],
  keys.map((k) => [k.name, ...family(k).map((chords) => chords.join(" "))]),
);

// Qualities of this project by tonal's name, where that is another.
const known = [
  "", "m", "dim", "aug", ["(b5)", "Mb5"], "sus2", "sus4", "5", "6", "m6",
  "7", "maj7", "m7", "m7b5", "dim7", ["m(maj7)", "mMaj7"], ["7#5", "aug7"], "maj7#5", "7b5", ["maj7b5", "M7b5"],
  "9", "maj9", "m9", ["m(maj9)", "mMaj9"], "9#5", "add9", "madd9", "6/9", ["m6/9", "m69"],
  "7sus4", "9sus4", "13sus4", "7b9sus4", "7b9", "7#9", "7#5b9", "7#5#9",
  "sus24", ["dim(maj7)", "oM7"], ["6/9#11", "69#11"], "maj9#5", ["maj7sus4", "M7sus4"], "7#9#11", ["7add13", "7add6"],
  "13#9", "13#11", "maj13#11", "9b13", "7#9b13",
  // Of those that are missing tonal knows none, or has their tones in another order:
  // add11, add#11, madd11, mb6, 7sus2, maj7sus2, 13b9sus4, m9b5, m11b5.
  "m7add11", "11", "m11", "7#11", "7b9#11", "maj7#11", "9#11", "maj9#11",
  "13", "maj13", "m13", "13b9", "7b13", "7b9b13",
].map((q) => (Array.isArray(q) ? q : [q, q]));

const roots = [..."CDEFGAB"].flatMap((letter) => [letter + "b", letter, letter + "#"]);

write(
  "chords.tsv",
  ["chord", "tones from the root up"],
  roots.flatMap((root) => known.map(([own, theirs]) => [root + own, Chord.getChord(theirs, root).notes.join(" ")])),
);

// Spellings of tonal's that are not read as it reads them.
const unread = new Map([
  ["2", "read as sus2, as more lead sheets mean it; tonal: add9"],
  ["b9sus", "behind a root the flat would be the root's"],
  ["phryg", "the name of a mode"],
]);
write(
  "spellings.tsv",
  ["spelling behind C", "chord"],
  known.flatMap(([own, theirs]) =>
    ChordType.get(theirs)
      .aliases.filter((spelling) => !unread.has(spelling))
      // ^ for Δ and h for ø stand in for signs that a font lacks.
      .filter((spelling) => !/[\^h]/.test(spelling))
      .map((spelling) => ["C" + spelling, "C" + own]),
  ),
);

// Numerals with a flat or sharp count from the major scale in tonal, in every
// key; in a major key that is how everyone counts. Its qualities are spelled as
// behind a root; "dim" it does not read, because of the i in it.
const numerals = [
  "I", "Imaj7", "IIm", "IIm7", "IIIm", "IV", "IVmaj7", "IVm6", "V", "V7", "V7b9", "VIm", "VIm7", "VIIo", "VIIm7b5",
  "#Io7", "bII", "bIImaj7", "II7", "#IIo7", "bIII", "bIIImaj7", "#IVo7", "#IVm7b5", "bV", "bVI", "bVImaj7",
  "bVII", "bVII7", "VIIo7",
];
// Over natural minor tonal has the diatonic minor chord on the fifth.
const majorTargets = ["I", "ii", "iii", "IV", "V", "vi", "vii"];
const minorTargets = ["i", "ii", "III", "iv", "v", "VI", "VII"];
// tonal leaves a secondary dominant empty where it belongs to the key itself
// or where the chord that it leads to is diminished.
const led = (key, targets, dominants) =>
  dominants.flatMap((chord, i) => (chord ? [[key, `V7/${targets[i]}`, chord]] : []));

write(
  "numerals.tsv",
  ["key", "numeral", "chord"],
  keys.flatMap((k) => {
    if (k.mode === "minor") return led(k.name, minorTargets, Key.minorKey(k.tonic).natural.secondaryDominants);
    if (k.mode !== "major") return [];
    return [
      ...Progression.fromRomanNumerals(k.tonic, numerals).map((chord, i) => [k.name, numerals[i], chord]),
      ...led(k.name, majorTargets, Key.majorKey(k.tonic).secondaryDominants),
    ];
  }),
);

write(
  "pitches.tsv",
  ["pitch", "MIDI key", "frequency in Hz"],
  [0, 1, 2, 3, 4, 5, 6, 7, 8].flatMap((octave) =>
    roots.map((root) => [root + octave, Note.midi(root + octave), Note.freq(root + octave).toFixed(6)]),
  ),
);
