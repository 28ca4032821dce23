// Writes zip archives without compression: what is in them is compressed already,
// or is sound. The format is that of PKWARE's APPNOTE.TXT 6.3.10, sections 4.3.7,
// 4.3.12 and 4.3.16. All entries have the same date, so that the same files make
// the same archive.

/** @typedef {{name: string, parts: BlobPart[], size: number, sum: number}} Entry */

const date = 0x21; // 1 January 1980
const utf8 = 0x800; // names are UTF-8

/**
 * @param {number[]} fields pairs of a width in bytes and a value
 */
function record(...fields) {
  const size = fields.reduce((sum, width, i) => (i % 2 === 0 ? sum + width : sum), 0);
  const view = new DataView(new ArrayBuffer(size));
  let at = 0;
  for (let i = 0; i < fields.length; i += 2) {
    if (fields[i] === 2) view.setUint16(at, fields[i + 1], true);
    else view.setUint32(at, fields[i + 1], true);
    at += fields[i];
  }
  return new Uint8Array(view.buffer);
}

/** @param {Entry[]} entries */
export function zip(entries) {
  /** @type {BlobPart[]} */
  const parts = [];
  /** @type {BlobPart[]} */
  const directory = [];
  let at = 0;
  let directorySize = 0;
  for (const { name, parts: own, size, sum } of entries) {
    const bytes = new TextEncoder().encode(name);
    const common = [2, 20, 2, utf8, 2, 0, 2, 0, 2, date, 4, sum, 4, size, 4, size, 2, bytes.length];
    const local = record(4, 0x04034b50, ...common, 2, 0);
    const central = record(4, 0x02014b50, 2, 20, ...common, 2, 0, 2, 0, 2, 0, 2, 0, 4, 0, 4, at);
    parts.push(local, bytes, ...own);
    directory.push(central, bytes);
    at += local.length + bytes.length + size;
    directorySize += central.length + bytes.length;
  }
  const end = record(4, 0x06054b50, 2, 0, 2, 0, 2, entries.length, 2, entries.length, 4, directorySize, 4, at, 2, 0);
  return new Blob([...parts, ...directory, end], { type: "application/zip" });
}

/**
 * A text as an entry.
 * @param {string} name
 * @param {string} text
 * @returns {Entry}
 */
export function textEntry(name, text) {
  const bytes = new TextEncoder().encode(text);
  return { name, parts: [bytes], size: bytes.length, sum: crc32(bytes) };
}

/** @param {Uint8Array} bytes */
function crc32(bytes) {
  let sum = ~0;
  for (const byte of bytes) {
    sum ^= byte;
    for (let bit = 0; bit < 8; bit++) sum = sum & 1 ? (sum >>> 1) ^ 0xedb88320 : sum >>> 1;
  }
  return ~sum >>> 0;
}
