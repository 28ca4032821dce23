// What the pages keep in the browser: small things, under their own keys.

const prefix = "thirdwise:";

/**
 * @param {string} key
 * @returns {any} undefined where nothing was kept, or nothing may be
 */
export function recall(key) {
  try {
    return JSON.parse(localStorage.getItem(prefix + key) ?? "null") ?? undefined;
  } catch {
    return undefined;
  }
}

/**
 * @param {string} key
 * @param {unknown} value
 * @returns {boolean} whether it could be kept
 */
export function remember(key, value) {
  try {
    localStorage.setItem(prefix + key, JSON.stringify(value));
    return true;
  } catch {
    return false;
  }
}

/** @param {string} key */
export function forget(key) {
  try {
    localStorage.removeItem(prefix + key);
  } catch {
    // There is nothing to forget where nothing may be kept.
  }
}
