// A sound device for tests. Its time passes only while a test lets it pass, and
// never before the page has made what it wants to have ahead: so what is heard
// does not depend on how busy the machine is. It keeps all that was played.
//
//	device.pass(seconds)   lets time pass; a promise
//	device.heard()         what was played since it was last asked; a promise
//	device.rest()          settled once the engines have nothing to do; a promise
const device = (() => {
  const rate = 44100;
  const longest = 90; // seconds that a test can last
  const step = 4096; // frames between two rests
  const recorder = "data:text/javascript," + encodeURIComponent(`
    registerProcessor("ear", class extends AudioWorkletProcessor {
      constructor() {
        super();
        this.kept = [];
        this.port.onmessage = ({ data }) => {
          this.port.postMessage(data === "heard" ? this.kept : []);
          if (data === "heard") this.kept = [];
        };
      }
      process([input]) {
        const [left, right] = input;
        this.kept.push({ frame: currentFrame, left: left ? left.slice() : null, right: right ? right.slice() : null });
        return true;
      }
    });`);

  // What workers have been asked for and have not answered.
  const asked = new Set();
  const NativeWorker = Worker;
  window.Worker = class extends NativeWorker {
    constructor(url) {
      super(url);
      this.own = new Map();
      this.addEventListener("message", ({ data }) => {
        if (!data.blocks && !data.part) this.answered(data.id);
      });
    }
    answered(id) {
      asked.delete(this.own.get(id));
      this.own.delete(id);
    }
    postMessage(message, ...rest) {
      if (message.cancel || message.rest) this.answered(message.cancel ?? message.rest);
      else if (message.id || message.go) {
        const mark = {};
        this.own.set(message.id ?? message.go, mark);
        asked.add(mark);
      }
      super.postMessage(message, ...rest);
    }
    terminate() {
      for (const id of [...this.own.keys()]) this.answered(id);
      super.terminate();
    }
  };

  const turn = () =>
    new Promise((resolve) => {
      const channel = new MessageChannel();
      channel.port1.onmessage = resolve;
      channel.port2.postMessage(0);
    });
  async function rest() {
    for (let still = 0; still < 4; ) {
      if (asked.size) await new Promise((resolve) => setTimeout(resolve, 2));
      await turn();
      still = asked.size ? 0 : still + 1;
    }
  }

  const device = { rest, context: undefined };

  window.AudioContext = class extends OfflineAudioContext {
    constructor() {
      super(2, longest * rate, rate);
      device.context = this;
    }
    async resume() {
      if (this.started) return;
      this.started = true;
      const stopped = this.suspend(0);
      void this.startRendering();
      await stopped;
    }
    go() {
      return super.resume();
    }
  };

  const addModule = AudioWorklet.prototype.addModule;
  AudioWorklet.prototype.addModule = async function (url) {
    await addModule.call(this, recorder);
    return addModule.call(this, url);
  };
  const connect = AudioNode.prototype.connect;
  AudioNode.prototype.connect = function (to, ...more) {
    if (to === device.context?.destination) {
      device.ear = new AudioWorkletNode(this.context, "ear", { numberOfOutputs: 0 });
      connect.call(this, device.ear);
    }
    return connect.call(this, to, ...more);
  };
  const ask = (question) =>
    new Promise((resolve) => {
      device.ear.port.onmessage = ({ data }) => resolve(data);
      device.ear.port.postMessage(question);
    });

  device.pass = async (seconds) => {
    const frame = () => Math.round(device.context.currentTime * rate);
    const until = frame() + Math.round(seconds * rate);
    while (frame() < until) {
      await rest();
      const reached = device.context.suspend((frame() + Math.min(step, until - frame() + 127)) / rate);
      await device.context.go();
      await reached;
      await ask("where"); // the mixer's reports have come before its answer
    }
    await rest();
  };

  device.heard = async () => {
    const kept = await ask("heard");
    const both = new Float32Array(2 * 128 * kept.length);
    kept.forEach((d, i) => {
      if (d.left) both.set(d.left, 128 * i);
      if (d.right) both.set(d.right, 128 * (kept.length + i));
    });
    let text = "";
    const bytes = new Uint8Array(both.buffer);
    for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192));
    return { first: kept[0]?.frame ?? 0, samples: btoa(text) };
  };
  return device;
})();
window.device = device;
