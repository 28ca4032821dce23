import mixerText from "bundled:mixer";

/** Samples a second, as a kit's tracks have them: both hold the same samples. */
export const rate = 44100;

/** The audio context, the mixer in it, and its clock. */
export class Sound {
  constructor() {
    this.rate = rate;
    /** Made at the first sound: a page may not make one by itself. @type {AudioContext | undefined} */
    this.context = undefined;
    /** @type {(report: {frame: number, context: number, waited: number}) => void} */
    this.onReport = () => {};
    this.report = { frame: 0, context: 0, waited: 0 };
    /** @type {AudioWorkletNode | undefined} */
    this.mixer = undefined;
  }

  /** Opens the mixer; called when a key or a finger allows sound. */
  async open() {
    this.context ??= new AudioContext({ sampleRate: rate });
    const resumed = this.context.resume();
    if (!this.mixer) {
      // A page from a file is of no origin, so its blobs are closed to worklets.
      await this.context.audioWorklet.addModule(`data:text/javascript,${encodeURIComponent(mixerText)}`);
      this.mixer = new AudioWorkletNode(this.context, "mixer", { numberOfInputs: 0, outputChannelCount: [2] });
      this.mixer.port.onmessage = ({ data }) => {
        this.report = data;
        this.onReport(data);
      };
      this.mixer.connect(this.context.destination);
    }
    await resumed;
  }

  /**
   * @param {any} message
   * @param {Transferable[]} [transfer]
   */
  send(message, transfer = []) {
    this.mixer?.port.postMessage(message, transfer);
  }

  /** The frame of the stream that is heard now: what has left the device. */
  heard() {
    const { context } = this;
    if (!context) return 0;
    const stamp = context.getOutputTimestamp?.();
    let seconds = context.currentTime - (context.outputLatency || context.baseLatency || 0);
    if (stamp?.performanceTime && stamp.contextTime) {
      seconds = stamp.contextTime + (performance.now() - stamp.performanceTime) / 1000;
    }
    return this.report.frame + Math.round(seconds * this.rate) - this.report.context;
  }
}
