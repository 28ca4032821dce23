import workerText from "bundled:worker";

/** @typedef {(blocks: Blocks, frames: number) => void} OnBlocks */

/**
 * Decompresses and compiles an engine, beside what else the page does.
 * @param {string} compressed base64 of gzip
 */
export async function compile(compressed) {
  const response = new Response(new Blob([fromBase64(compressed)]).stream().pipeThrough(new DecompressionStream("gzip")), {
    headers: { "Content-Type": "application/wasm" },
  });
  return WebAssembly.compileStreaming(response);
}

/**
 * Decodes base64 in a plain loop: it is some twenty times as fast as Uint8Array.from,
 * and an engine is megabytes.
 * @param {string} text
 */
export function fromBase64(text) {
  const characters = atob(text);
  const bytes = new Uint8Array(characters.length);
  for (let i = 0; i < bytes.length; i++) bytes[i] = characters.charCodeAt(i);
  return bytes;
}

/** The page's side of a worker that runs an engine. */
export class Engine {
  /** @param {Promise<WebAssembly.Module>} module */
  constructor(module) {
    const url = URL.createObjectURL(new Blob([workerText], { type: "text/javascript" }));
    this.worker = new Worker(url);
    URL.revokeObjectURL(url);
    this.last = 0;
    /** @type {Map<number, {resolve: (value: any) => void, reject: (error: Error) => void, onBlocks?: OnBlocks, onPart?: (part: any) => void}>} */
    this.waiting = new Map();
    /** Settled once the engine runs. @type {Promise<void>} */
    this.ready = new Promise((resolve, reject) => {
      this.worker.onmessage = ({ data }) => {
        if (data.ready) resolve();
        else if (data.failed) reject(new Error(data.failed));
        else this.hear(data);
      };
      this.worker.onerror = (event) => reject(new Error(event.message || "the engine could not start"));
    });
    module.then((start) => this.worker.postMessage({ start }), (error) => this.worker.dispatchEvent(new ErrorEvent("error", { message: error.message })));
  }

  /** @param {any} data */
  hear(data) {
    const job = this.waiting.get(data.id);
    if (!job) return;
    if (data.blocks || data.part) {
      if (data.blocks) job.onBlocks?.(data.blocks, data.frames);
      else job.onPart?.(data.part);
      return;
    }
    this.waiting.delete(data.id);
    if (data.error) job.reject(new Error(data.error));
    else job.resolve(data.result);
  }

  /**
   * Calls a method of the engine.
   * @param {string} op
   * @param {...any} args
   * @returns {Promise<any>}
   */
  async call(op, ...args) {
    await this.ready;
    return new Promise((resolve, reject) => {
      const id = ++this.last;
      this.waiting.set(id, { resolve, reject });
      this.worker.postMessage({ id, op, args });
    });
  }

  /**
   * Has a bar made, or where nothing is told of its samples only the notes in it. What it
   * returns settles when the bar is complete.
   * @param {{index: number, tempo: number, ends: boolean, parts: number[]}} bar
   * @param {boolean} soon before all that waits
   * @param {OnBlocks} [onBlocks]
   * @returns {{done: Promise<void>, cancel: () => void, rest: () => void, go: () => void}} rest has it made no further, until go
   */
  make(bar, soon, onBlocks) {
    const id = ++this.last;
    const done = new Promise((resolve, reject) => {
      this.waiting.set(id, { resolve, reject, onBlocks });
      this.ready.then(() => this.worker.postMessage({ id, bar, soon, heard: onBlocks !== undefined }), reject);
    });
    const cancel = () => {
      this.waiting.delete(id);
      this.worker.postMessage({ cancel: id });
    };
    const tell = (/** @type {any} */ message) => () => this.worker.postMessage(message);
    return { done: /** @type {Promise<void>} */ (done), cancel, rest: tell({ rest: id }), go: tell({ go: id }) };
  }

  /**
   * Has a kit made, and is handed its files as they are made.
   * @param {any[]} args file, the practice page, its engine
   * @param {(part: any) => void} onPart
   */
  async makeKit(args, onPart) {
    await this.ready;
    return new Promise((resolve, reject) => {
      const id = ++this.last;
      this.waiting.set(id, { resolve, reject, onPart });
      this.worker.postMessage({ id, kit: args });
    });
  }

  /** Ends the worker, whatever it does. */
  end() {
    this.worker.terminate();
    for (const { reject } of this.waiting.values()) reject(new Error("it was stopped"));
    this.waiting.clear();
  }
}
