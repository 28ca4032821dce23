// While it plays, the screen stays awake, and the keys for media work where the
// device has them.

/** @typedef {import("./stand.js").Stand} Stand */

/** @param {Stand} stand */
export function stayAwake(stand) {
  /** @type {Promise<WakeLockSentinel> | undefined} */
  let lock;
  const follow = () => {
    const wanted = stand.player.playing && !document.hidden;
    if (wanted === Boolean(lock)) return;
    // The screen may sleep all the same: not every device lets a page hold it.
    if (lock) lock.then((held) => held.release()).catch(() => {});
    lock = wanted ? navigator.wakeLock?.request("screen") : undefined;
    lock?.catch(() => (lock = undefined));
  };
  stand.listeners.push(follow);
  document.addEventListener("visibilitychange", follow); // a hidden page loses it
}

/** @param {Stand} stand */
export function mediaKeys(stand) {
  if (!("mediaSession" in navigator)) return;
  const session = navigator.mediaSession;
  // Browsers give the keys to what plays in an element of its own: it plays silence.
  const carrier = new Audio(URL.createObjectURL(silence()));
  carrier.loop = true;
  let title = "";
  stand.listeners.push(() => {
    const { playing } = stand.player;
    if (title !== stand.piece.title) {
      title = stand.piece.title;
      session.metadata = new MediaMetadata({ title, artist: "thirdwise" });
    }
    session.playbackState = playing ? "playing" : "paused";
    if (playing && carrier.paused) carrier.play().catch(() => {}); // without it, there are no such keys
    else if (!playing) carrier.pause();
  });
  /** @type {[MediaSessionAction, () => void][]} */
  const actions = [
    ["play", () => stand.player.playing || stand.toggle()],
    ["pause", () => stand.player.playing && stand.toggle()],
    ["stop", () => stand.player.playing && stand.toggle()],
    ["previoustrack", () => stand.restart()],
  ];
  for (const [action, act] of actions) session.setActionHandler(action, act);
}

/** Six seconds of silence, as a WAV file: keys are not given for less than five. */
function silence() {
  const rate = 8000;
  const frames = 6 * rate;
  const text = (/** @type {string} */ name) => new TextEncoder().encode(name);
  const numbers = (/** @type {number[]} */ ...values) => new Uint8Array(new Uint32Array(values).buffer);
  return new Blob([
    text("RIFF"), numbers(36 + frames), text("WAVEfmt "), numbers(16, 0x10001, rate, rate, 0x80001), text("data"), numbers(frames),
    new Uint8Array(frames).fill(128), // eight bits, one channel
  ], { type: "audio/wav" });
}
