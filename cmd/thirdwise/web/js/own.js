// The bars of the line that an exercise writes itself: read and written line by
// line, as all settings are.
import { blockEnd, childIndent, find } from "./settings.js";

/**
 * Finds where the bars stand.
 * @param {string[]} lines
 */
function locate(lines) {
  const line = find(lines, "line", 0, lines.length, false);
  const own = line && find(lines, "own", line.at + 1, blockEnd(lines, line.at), true);
  return { line, own };
}

/**
 * @param {string[]} lines
 * @param {{at: number, indent: string}} own
 * @param {number} bar
 */
function findBar(lines, own, bar) {
  for (let at = own.at + 1; at < blockEnd(lines, own.at, own.indent.length); at++) {
    const found = /^(\s+)["']?(\d+)["']?\s*:\s*(.*?)(\s+#.*|\s*)$/.exec(lines[at]);
    if (found && Number(found[2]) === bar) return { at, indent: found[1], value: found[3].replace(/^(["'])(.*)\1$/, "$2"), comment: found[4].trimEnd() };
  }
  return undefined;
}

/**
 * Reads the signs of a bar, a slot each; undefined where the text does not write it.
 * @param {string} text
 * @param {number} bar its number
 */
export function readOwn(text, bar) {
  const lines = text.split("\n");
  const { own } = locate(lines);
  const found = own && findBar(lines, own, bar);
  return found?.value.split(/\s+/).flatMap((word) => (/^[-x.]+$/i.test(word) ? [...word.toLowerCase()] : [word]));
}

/**
 * Writes a bar, or takes it out. The rest of the text stays. It is undefined where
 * the settings of the line stand in braces.
 * @param {string} text
 * @param {number} bar its number
 * @param {string | undefined} signs
 */
export function writeOwn(text, bar, signs) {
  const lines = text.split("\n");
  const { line, own } = locate(lines);
  if (line?.value || own?.value) return undefined;
  const found = own && findBar(lines, own, bar);
  if (found && own) {
    if (signs) lines[found.at] = `${found.indent}${bar}: ${signs}${found.comment}`;
    else lines.splice(found.at, 1);
    if (!signs && blockEnd(lines, own.at, own.indent.length) === own.at + 1) {
      lines.splice(own.at, 1);
      if (line && blockEnd(lines, line.at) === line.at + 1) lines.splice(line.at, 1);
    }
    return lines.join("\n");
  }
  if (!signs) return text;
  if (own) {
    const indent = childIndent(lines, own.at, own.indent.length) ?? `${own.indent}  `;
    let at = own.at + 1; // in the order of the bars
    for (const end = blockEnd(lines, own.at, own.indent.length); at < end && Number(/^\s*["']?(\d+)/.exec(lines[at])?.[1] ?? -1) < bar; ) at++;
    lines.splice(at, 0, `${indent}${bar}: ${signs}`);
    return lines.join("\n");
  }
  if (line) {
    const indent = childIndent(lines, line.at, 0) ?? "  ";
    lines.splice(blockEnd(lines, line.at), 0, `${indent}own:`, `${indent}${indent}${bar}: ${signs}`);
    return lines.join("\n");
  }
  while (lines.length && lines[lines.length - 1].trim() === "") lines.pop();
  return [...lines, "line:", "  own:", `    ${bar}: ${signs}`, ""].join("\n");
}
