import { download, h, musical, noteOf } from "./dom.js";
import { called } from "./words.js";

/** @typedef {import("./stand.js").Stand} Stand */
/** @typedef {import("./stand.js").Moment} Moment */

const width = 1280;
const height = 720;
const barsARow = 2;
const ink = "#14171b";
const paper = "#fdfbf6";
const accent = "#a53a0b";
const pale = "#8a8578";

/**
 * Two rows of large tab with chords, the neck above, nothing else: on the whole
 * screen, or as a film.
 */
export class ScreenView {
  /** @param {Stand} stand */
  constructor(stand) {
    this.stand = stand;
    this.canvas = h("canvas", { width, height, class: "screen", "aria-label": "Tab and neck, large", role: "img", hidden: true });
    this.openButton = h("button", { type: "button", click: () => this.open() }, "Screen view");
    this.recordButton = h("button", { type: "button", click: () => this.record() }, "Record");
    /** @type {MediaRecorder | undefined} */
    this.recorder = undefined;
    this.drawing = false;
    /** @type {Element[]} */
    this.behind = []; // what cannot be used while it is shown
    document.addEventListener("fullscreenchange", () => {
      if (!document.fullscreenElement) this.close();
    });
    stand.watchers.push((moment) => {
      if (this.drawing || this.recorder) this.draw(moment);
    });
  }

  open() {
    if (this.drawing) return;
    // Not every telephone has a whole screen to give, and none has an Escape key.
    const leave = h("button", {
      type: "button", class: "leave-screen", "aria-label": "Back to the page", title: "Back to the page",
      click: (/** @type {Event} */ event) => {
        event.stopPropagation(); // a tap beside it plays or pauses
        this.close();
      },
    }, "×");
    this.frame = h("div", { class: "screen-frame", role: "dialog", "aria-label": "Screen view", tabindex: -1 }, this.canvas, leave);
    this.canvas.hidden = false;
    this.behind = [...document.body.children].filter((element) => !element.hasAttribute("inert"));
    for (const element of this.behind) element.toggleAttribute("inert", true);
    document.body.append(this.frame);
    this.frame.focus();
    this.drawing = true;
    this.draw(undefined);
    const shown = this.frame.requestFullscreen?.();
    shown?.catch(() => {});
    this.leave = (/** @type {KeyboardEvent} */ event) => {
      if (event.key === "Escape") this.close();
    };
    document.addEventListener("keydown", this.leave);
    this.frame.addEventListener("click", () => this.stand.toggle());
  }

  close() {
    if (!this.drawing) return;
    this.drawing = false;
    this.canvas.hidden = true;
    this.frame?.remove();
    for (const element of this.behind) element.toggleAttribute("inert", false);
    this.openButton.focus();
    if (this.leave) document.removeEventListener("keydown", this.leave);
    if (document.fullscreenElement) void document.exitFullscreen();
  }

  /** Makes a film of what is played, until it ends or is stopped. */
  async record() {
    const { stand } = this;
    if (this.recorder) {
      this.recorder.stop();
      return;
    }
    if (!("MediaRecorder" in window) || !this.canvas.captureStream) {
      stand.say("This browser cannot record.");
      return;
    }
    await stand.sound.open();
    const { context, mixer } = stand.sound;
    if (!context || !mixer) return;
    const sound = context.createMediaStreamDestination();
    mixer.connect(sound);
    this.draw(undefined);
    const stream = new MediaStream([...this.canvas.captureStream(30).getTracks(), ...sound.stream.getTracks()]);
    const type = ["video/mp4;codecs=avc1,mp4a.40.2", "video/webm;codecs=vp9,opus", "video/webm"].find((t) => MediaRecorder.isTypeSupported(t));
    const recorder = new MediaRecorder(stream, { mimeType: type, videoBitsPerSecond: 4_000_000 });
    /** @type {Blob[]} */
    const pieces = [];
    recorder.ondataavailable = (event) => pieces.push(event.data);
    const ending = () => {
      if (!stand.player.playing && recorder.state === "recording") recorder.stop();
    };
    recorder.onstop = () => {
      stand.listeners.splice(stand.listeners.indexOf(ending), 1);
      mixer.disconnect(sound);
      this.recorder = undefined;
      this.recordButton.textContent = "Record";
      const film = new Blob(pieces, { type: recorder.mimeType });
      const ext = recorder.mimeType.includes("mp4") ? "mp4" : "webm";
      download(film, `${stand.piece.name}-${String(stand.settings.tempo).padStart(3, "0")}.${ext}`);
      stand.say("The film is saved.");
    };
    this.recorder = recorder;
    this.recordButton.textContent = "Stop recording";
    recorder.start(1000);
    if (stand.player.playing) stand.player.stop();
    stand.at = stand.settings.from;
    stand.toggle();
    setTimeout(() => stand.listeners.push(ending), 500);
  }

  /** @param {Moment | undefined} moment */
  draw(moment) {
    const g = this.canvas.getContext("2d");
    if (!g) return;
    g.fillStyle = paper;
    g.fillRect(0, 0, width, height);
    const { piece } = this.stand;
    const at = moment && moment.bar.bar >= 0 ? moment.bar.bar : this.stand.at;
    const third = moment && moment.third >= 0 ? piece.line[moment.third] : undefined;
    const after = moment ? piece.line[this.stand.thirdAfter(moment)] : undefined;
    this.drawNeck(g, third, after);
    const first = at - (at % barsARow);
    const { from, to } = this.stand.settings;
    let second = first + barsARow;
    if (second > to || second >= piece.bars.length) second = from - (from % barsARow);
    this.drawRow(g, first, 330, moment);
    this.drawRow(g, second, 550, undefined);
  }

  /** The note of an open string. @param {number} string 1 is the highest */
  nameOf(string) {
    const { tuning } = this.stand.piece;
    return musical(noteOf(tuning[tuning.length - string]));
  }

  /**
   * @param {CanvasRenderingContext2D} g
   * @param {Third | undefined} now
   * @param {Third | undefined} next
   */
  drawNeck(g, now, next) {
    const { piece, neck } = this.stand;
    const strings = piece.tuning.length;
    const gap = 150 / (strings - 1);
    const low = neck.low;
    const frets = neck.high - low + 1;
    const fretWidth = (width - 200) / frets;
    const mirror = (/** @type {number} */ x) => (neck.leftHanded ? width - x : x);
    const x = (/** @type {number} */ fret) => mirror(fret === 0 ? 70 : 100 + (fret - low + 0.5) * fretWidth);
    const y = (/** @type {number} */ string) => 40 + (string - 1) * gap;
    for (let i = 0; i <= frets; i++) line(g, mirror(100 + i * fretWidth), 40, mirror(100 + i * fretWidth), 190, i === 0 && low === 1 ? 7 : 2, pale);
    for (let i = 1; i <= strings; i++) {
      line(g, mirror(100), y(i), mirror(100 + frets * fretWidth), y(i), 1 + i * 0.4, pale);
      text(g, this.nameOf(i), mirror(36), y(i) + 6, "bold 18px sans-serif", ink);
    }
    for (let fret = low; fret < low + frets; fret++) text(g, String(fret), x(fret), 226, "18px sans-serif", "#5d594f");
    for (const note of next && next !== now ? [next.lower, next.upper] : []) {
      g.beginPath();
      g.arc(x(note.fret), y(note.string), 14, 0, 7);
      g.lineWidth = 3;
      g.strokeStyle = accent;
      g.stroke();
    }
    for (const note of now ? [now.lower, now.upper] : []) {
      g.beginPath();
      g.arc(x(note.fret), y(note.string), 16, 0, 7);
      g.fillStyle = accent;
      g.fill();
      text(g, musical(noteOf(note.pitch)), x(note.fret), y(note.string) + 6, "bold 17px sans-serif", "#fff");
    }
  }

  /**
   * @param {CanvasRenderingContext2D} g
   * @param {number} first index of the row's first bar
   * @param {number} top
   * @param {Moment | undefined} moment
   */
  drawRow(g, first, top, moment) {
    const { piece } = this.stand;
    const strings = piece.tuning.length;
    const gap = 120 / (strings - 1);
    const barWidth = (width - 80) / barsARow;
    const y = (/** @type {number} */ string) => top + (string - 1) * gap;
    for (let i = 0; i < barsARow; i++) {
      const bar = piece.bars[first + i];
      if (!bar) break;
      const left = 40 + i * barWidth;
      const x = (/** @type {number} */ tick) => left + 34 + ((tick - bar.tick) / piece.barTicks) * (barWidth - 44);
      if (moment && moment.bar.bar === first + i) {
        g.fillStyle = "#f4e3b8";
        g.fillRect(left, top - 16, barWidth, 152);
      }
      for (let string = 1; string <= strings; string++) {
        line(g, left, y(string), left + barWidth, y(string), 1.5, pale);
        if (i === 0) text(g, this.nameOf(string), 20, y(string) + 6, "16px sans-serif", "#5d594f");
      }
      line(g, left, top, left, top + 120, 3, ink);
      if (i === barsARow - 1 || !piece.bars[first + i + 1]) line(g, left + barWidth, top, left + barWidth, top + 120, 3, ink);
      for (const chord of bar.chords) text(g, musical(called(chord)), x(chord.tick), top - 28, "bold 38px sans-serif", ink, "left");
      for (const third of piece.line.filter((t) => t.tick >= bar.tick && t.tick < bar.tick + piece.barTicks)) {
        const lit = moment && moment.third >= 0 && piece.line[moment.third] === third;
        for (const note of [third.lower, third.upper]) {
          const fret = String(note.fret);
          g.font = "bold 30px sans-serif";
          const half = g.measureText(fret).width / 2 + 4;
          g.fillStyle = moment && moment.bar.bar === first + i ? "#f4e3b8" : paper;
          g.fillRect(x(third.tick) - half, y(note.string) - 13, 2 * half, 26);
          text(g, fret, x(third.tick), y(note.string) + 11, "bold 30px sans-serif", lit ? accent : ink);
        }
      }
    }
  }
}

/**
 * @param {CanvasRenderingContext2D} g
 * @param {number} x1
 * @param {number} y1
 * @param {number} x2
 * @param {number} y2
 * @param {number} thickness
 * @param {string} colour
 */
function line(g, x1, y1, x2, y2, thickness, colour) {
  g.beginPath();
  g.moveTo(x1, y1);
  g.lineTo(x2, y2);
  g.lineWidth = thickness;
  g.strokeStyle = colour;
  g.stroke();
}

/**
 * @param {CanvasRenderingContext2D} g
 * @param {string} words
 * @param {number} x
 * @param {number} y
 * @param {string} font
 * @param {string} colour
 * @param {CanvasTextAlign} align
 */
function text(g, words, x, y, font, colour, align = "center") {
  g.font = font;
  g.fillStyle = colour;
  g.textAlign = align;
  g.fillText(words, x, y);
}
