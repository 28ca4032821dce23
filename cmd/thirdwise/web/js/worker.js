// The worker that runs the engine. A page sends it
//
//	{start: module}             the compiled engine, once; {ready: true} comes back
//	{id, op, args}              a call; {id, result} or {id, error} comes back
//	{id, bar: {...}, heard}     a bar to be made; where it is heard {id, blocks, frames}
//	                            comes back several times, then {id, done: true}
//	{rest: id}, {go: id}        a bar that is not needed further for now, and is again
//	{cancel: id}                a bar that is not wanted any more
//	{id, kit: [...]}            a kit to be made; {id, part: {...}} comes back for each
//	                            piece of a file and each file that is complete
//
// Bars are made one after the other, a block at a time; calls come in between.
import "go:wasm_exec";

const firstFrames = 2048; // soon heard
const moreFrames = 8192;

/** @typedef {{id: number, number: number, bar: any, heard: boolean, rests: boolean, frames: number}} Job */

/** @type {Job[]} */
const jobs = [];
let working = false;

/** @param {WebAssembly.Module} module */
async function start(module) {
  const go = new Go();
  go.run(await WebAssembly.instantiate(module, go.importObject));
  postMessage({ ready: true });
}

/**
 * Makes a kit and hands its files over as they are made.
 * @param {number} id
 * @param {any[]} args
 */
function makeKit(id, args) {
  const part = (/** @type {any} */ made, /** @type {Transferable[]} */ transfer = []) =>
    postMessage({ id, part: made }, /** @type {any} */ (transfer));
  return thirdwise.kit(...args, {
    progress: (/** @type {number} */ done, /** @type {number} */ all) => part({ done, all }),
    bytes: (/** @type {string} */ name, /** @type {Uint8Array} */ bytes) => part({ name, bytes }, [bytes.buffer]),
    complete: (/** @type {string} */ name, /** @type {number} */ sum) => part({ name, sum }),
  });
}

/** Lets messages in that wait. */
const channel = new MessageChannel();
channel.port1.onmessage = () => work();

/** @param {Job} job */
function leave(job) {
  jobs.splice(jobs.indexOf(job), 1);
}

function workOn() {
  if (working) return;
  working = true;
  work();
}

function work() {
  const job = jobs.find((j) => !j.rests);
  if (!job) {
    working = false;
    return;
  }
  if (job.number < 0) {
    const { index, tempo, ends, parts } = job.bar;
    const begun = thirdwise.bar(index, tempo, ends, parts);
    if (begun.error) {
      postMessage({ id: job.id, error: begun.error });
      leave(job);
      channel.port2.postMessage(0);
      return;
    }
    job.number = begun;
  }
  const blocks = thirdwise.read(job.number, job.frames, job.heard);
  if (!blocks || blocks.error) {
    postMessage({ id: job.id, done: true, error: blocks?.error });
    leave(job);
  } else if (job.heard) {
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
    const job = jobs.find((j) => j.id === data.cancel);
    if (job) {
      leave(job);
      if (job.number >= 0) thirdwise.drop(job.number);
    }
  } else if (data.rest || data.go) {
    const job = jobs.find((j) => j.id === (data.rest ?? data.go));
    if (job) job.rests = data.rest !== undefined;
    workOn();
  } else if (data.bar) {
    const job = { id: data.id, number: -1, bar: data.bar, heard: data.heard, rests: false, frames: firstFrames };
    if (data.soon) jobs.unshift(job);
    else jobs.push(job);
    workOn();
  } else {
    const result = data.kit ? makeKit(data.id, data.kit) : thirdwise[data.op](...data.args);
    postMessage(result && result.error ? { id: data.id, error: result.error } : { id: data.id, result });
  }
};
