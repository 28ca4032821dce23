// The worker that runs the engine. A page sends it
//
//	{start: base64}             the compressed engine, once; {ready: true} comes back
//	{id, op, args}              a call; {id, result} or {id, error} comes back
//	{id, bar: {...}}            a bar to be made; {id, blocks, frames} comes back
//	                            several times, then {id, done: true}
//	{cancel: id}                a bar that is not wanted any more
//
// Bars are made one after the other, a block at a time; calls come in between.
import "go:wasm_exec";

const firstFrames = 2048; // soon heard
const moreFrames = 8192;

/** @type {{id: number, number: number, bar: any, frames: number}[]} */
const jobs = [];
let working = false;

/** Decompresses and starts the engine. @param {string} base64 */
async function start(base64) {
  const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip"));
  const response = new Response(stream, { headers: { "Content-Type": "application/wasm" } });
  const go = new Go();
  const { instance } = await WebAssembly.instantiateStreaming(response, go.importObject);
  go.run(instance);
  postMessage({ ready: true });
}

/** Lets messages in that wait. */
const channel = new MessageChannel();
channel.port1.onmessage = () => work();

function work() {
  const job = jobs[0];
  if (!job) {
    working = false;
    return;
  }
  if (job.number < 0) {
    const { index, tempo, ends, parts } = job.bar;
    const begun = thirdwise.bar(index, tempo, ends, parts);
    if (begun.error) {
      postMessage({ id: job.id, error: begun.error });
      jobs.shift();
      channel.port2.postMessage(0);
      return;
    }
    job.number = begun;
  }
  const blocks = thirdwise.read(job.number, job.frames);
  if (!blocks || blocks.error) {
    postMessage({ id: job.id, done: true, error: blocks?.error });
    jobs.shift();
  } else {
    const whole = /** @type {Blocks} */ (blocks);
    const buffers = whole.flatMap((b) => (b ? [b.buffer] : []));
    postMessage({ id: job.id, blocks: whole, frames: job.frames }, /** @type {any} */ (buffers));
    job.frames = moreFrames;
  }
  channel.port2.postMessage(0);
}

/** @param {MessageEvent} event */
onmessage = ({ data }) => {
  if (data.start) {
    start(data.start).catch((error) => postMessage({ failed: String(error) }));
  } else if (data.cancel) {
    const at = jobs.findIndex((job) => job.id === data.cancel);
    if (at >= 0) {
      const [job] = jobs.splice(at, 1);
      if (job.number >= 0) thirdwise.drop(job.number);
    }
  } else if (data.bar) {
    const job = { id: data.id, number: -1, bar: data.bar, frames: firstFrames };
    if (data.soon) jobs.unshift(job);
    else jobs.push(job);
    if (!working) {
      working = true;
      work();
    }
  } else {
    const result = thirdwise[data.op](...data.args);
    postMessage(result && result.error ? { id: data.id, error: result.error } : { id: data.id, result });
  }
};
