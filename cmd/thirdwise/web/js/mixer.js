// The worklet that adds up the bars' parts as they sound. It counts the frames of
// the stream, from the first that is played; where samples are late it waits for
// them instead of leaving them out. The page sends it
//
//	{play: true}                 begin at frame 0
//	{stop: true}                 fall silent, forget all
//	{blocks, frames, start, serial, turn}   samples of a bar from a frame on
//	{ready: frame}               all samples before it have been sent
//	{cut: serial}                forget the bars from this one on
//	{gains}                      of each part, by whose turn it is: "usual", the
//	                             student's "answer", or a bar of "count"-in
//
// and hears {frame, context, waited} about twenty times a second.

const quantum = 128;
const reportEvery = 16; // quanta
const slope = 0.12; // how far a gain moves in a quantum, so that nothing clicks
const fade = 20; // quanta from stop to silence: the loudest gain is 2

/** @typedef {{usual: number[], answer: number[], count: number[]}} Gains */
/** @typedef {{start: number, frames: number, serial: number, turn: keyof Gains, blocks: Blocks}} Stretch */

/** @returns {Gains} */
const silence = () => ({ usual: [], answer: [], count: [] });

/** @type {(keyof Gains)[]} */
const turns = ["usual", "answer", "count"];

class Mixer extends AudioWorkletProcessor {
  constructor() {
    super();
    /** @type {Stretch[]} */
    this.stretches = [];
    this.playing = false;
    this.fading = 0; // quanta until it is silent and stops
    this.frame = 0;
    this.ready = 0;
    this.waited = 0;
    this.quanta = 0;
    this.gains = silence();
    this.now = silence();
    this.port.onmessage = ({ data }) => this.hear(data);
  }

  /** @param {any} data */
  hear(data) {
    if (data.play) {
      this.playing = true;
      this.fading = 0;
      this.stretches = [];
      this.frame = this.ready = this.waited = this.quanta = 0;
      this.now = { usual: [...this.gains.usual], answer: [...this.gains.answer], count: [...this.gains.count] };
    } else if (data.stop) {
      this.fading = fade;
      const none = this.gains.usual.map(() => 0);
      this.gains = { usual: none, answer: none, count: none };
    } else if (data.blocks) {
      this.stretches.push(data);
    } else if (data.ready !== undefined) {
      this.ready = data.ready;
    } else if (data.cut !== undefined) {
      this.stretches = this.stretches.filter((s) => s.serial < data.cut);
      this.ready = data.from;
    } else if (data.gains) {
      this.gains = data.gains;
    }
  }

  /**
   * @param {Float32Array[][]} _inputs
   * @param {Float32Array[][]} outputs
   */
  process(_inputs, outputs) {
    if (!this.playing) return true;
    if (this.fading && --this.fading === 0) {
      this.playing = false;
      this.stretches = [];
      return true;
    }
    if (this.frame + quantum > this.ready) {
      this.waited++;
    } else {
      const [left, right] = outputs[0];
      for (const s of this.stretches) this.add(s, left, right);
      this.frame += quantum;
      this.stretches = this.stretches.filter((s) => s.start + s.frames > this.frame);
      for (const turn of turns) this.move(this.now[turn], this.gains[turn]);
    }
    if (this.quanta++ % reportEvery === 0) {
      this.port.postMessage({ frame: this.frame, context: currentFrame + quantum, waited: this.waited });
    }
    return true;
  }

  /**
   * @param {Stretch} s
   * @param {Float32Array} left
   * @param {Float32Array} right
   */
  add(s, left, right) {
    const offset = s.start - this.frame;
    const from = Math.max(0, offset);
    const to = Math.min(quantum, offset + s.frames);
    if (from >= to) return;
    const now = this.now[s.turn];
    const wanted = this.gains[s.turn];
    s.blocks.forEach((block, part) => {
      if (!block) return;
      const gain = now[part] ?? 0;
      const step = limited((wanted[part] ?? 0) - gain) / quantum;
      if (gain === 0 && step === 0) return;
      for (let i = from; i < to; i++) {
        const g = gain + step * i;
        left[i] += g * block[i - offset];
        right[i] += g * block[s.frames + i - offset];
      }
    });
  }

  /**
   * @param {number[]} now
   * @param {number[]} wanted
   */
  move(now, wanted) {
    wanted.forEach((g, part) => {
      now[part] = (now[part] ?? 0) + limited(g - (now[part] ?? 0));
    });
  }
}

/** @param {number} change */
function limited(change) {
  return Math.max(-slope, Math.min(slope, change));
}

registerProcessor("mixer", Mixer);
