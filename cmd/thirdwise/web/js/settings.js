// The settings of an exercise in its text: read and written line by line, so that
// comments and all that is not touched stay as they are.

/** @typedef {{at: number, indent: string, value: string, comment: string, block: boolean}} Line */

/**
 * Divides a line's value from the comment behind it.
 * @param {string} rest
 */
function divided(rest) {
  const found = /^(\s*)("(?:[^"\\]|\\.)*"|'(?:[^']|'')*'|.*?)(\s+#.*|\s*)$/.exec(rest);
  return { value: found?.[2] ?? rest.trim(), comment: found?.[3].trimEnd() ?? "" };
}

/**
 * Finds a setting among lines.
 * @param {string[]} lines
 * @param {string} name
 * @param {number} from
 * @param {number} to
 * @param {boolean} nested
 * @returns {Line | undefined}
 */
export function find(lines, name, from, to, nested) {
  for (let at = from; at < to; at++) {
    const found = /^(\s*)([\w-]+)\s*:(?:\s(.*)|)$/.exec(lines[at].replace(/\r$/, ""));
    if (!found || found[2].toLowerCase() !== name || (found[1] !== "") !== nested) continue;
    const { value, comment } = divided(found[3] ?? "");
    return { at, indent: found[1], value, comment, block: /^[|>]/.test(value) };
  }
  return undefined;
}

/**
 * Returns where the lines end that belong to a setting: those that are indented
 * further.
 * @param {string[]} lines
 * @param {number} at
 * @param {number} [indent] of the setting
 */
export function blockEnd(lines, at, indent = 0) {
  let end = at + 1;
  for (let i = end; i < lines.length && (lines[i].search(/\S/) > indent || lines[i].trim() === ""); i++) {
    if (lines[i].trim() !== "") end = i + 1;
  }
  return end;
}

/**
 * Returns the indentation of what belongs to a setting; undefined where nothing does.
 * @param {string[]} lines
 * @param {number} at
 * @param {number} indent of the setting
 */
export function childIndent(lines, at, indent) {
  const first = lines.slice(at + 1, blockEnd(lines, at, indent)).find((line) => /^\s*[^\s#]/.test(line));
  return first === undefined ? undefined : /^\s*/.exec(first)?.[0];
}

/**
 * @param {string[]} lines
 * @param {string} path "key" or "line.density"
 */
function locate(lines, path) {
  const [group, name] = path.split(".");
  if (name === undefined) return { found: find(lines, group, 0, lines.length, false), parent: undefined };
  const parent = find(lines, group, 0, lines.length, false);
  if (!parent) return { found: undefined, parent };
  return { found: find(lines, name, parent.at + 1, blockEnd(lines, parent.at), true), parent };
}

/**
 * Reads a setting; undefined where the text has none.
 * @param {string} text
 * @param {string} path
 */
export function readSetting(text, path) {
  const { found } = locate(text.split("\n"), path);
  if (!found || found.block) return undefined;
  return found.value.replace(/^"(.*)"$/, (_, inner) => inner.replace(/\\(.)/g, "$1")).replace(/^'(.*)'$/, (_, inner) => inner.replace(/''/g, "'"));
}

/**
 * Reads a setting of one line or more.
 * @param {string} text
 * @param {string} name
 */
export function readText(text, name) {
  const lines = text.split("\n");
  const { found } = locate(lines, name);
  if (!found?.block) return readSetting(text, name);
  const indent = (childIndent(lines, found.at, 0) ?? "").length;
  return lines.slice(found.at + 1, blockEnd(lines, found.at)).map((line) => line.slice(indent).trimEnd()).join("\n");
}

/**
 * Writes a setting of one line or more, or with no value takes it out.
 * @param {string} text
 * @param {string} name
 * @param {string} value
 */
export function writeText(text, name, value) {
  const written = value.split("\n").map((line) => line.trim());
  if (written.length === 1) return writeSetting(text, name, written[0]);
  const lines = writeSetting(text, name, "|").split("\n");
  const at = lines.findIndex((line) => line.toLowerCase().startsWith(`${name}: `));
  lines[at] = `${name}: |`;
  lines.splice(at + 1, 0, ...written.map((line) => (line ? `  ${line}` : "")));
  return lines.join("\n");
}

/**
 * Writes a value so that YAML reads it as text.
 * @param {string} value
 */
function quoted(value) {
  if (/^\[.*\]$/.test(value)) return value;
  return /^[\s"'[\]{}|>&*!%@`#,?:-]|: |\s#|\s$|:$/.test(value) && !/^-?\d/.test(value) && !/^- /.test(value) ? JSON.stringify(value) : value;
}

/**
 * Writes a setting, or with no value takes it out. The rest of the text stays.
 * @param {string} text
 * @param {string} path
 * @param {string | undefined} value
 */
export function writeSetting(text, path, value) {
  const lines = text.split("\n");
  const { found, parent } = locate(lines, path);
  const [group, name] = path.split(".");
  const written = value === undefined || value === "" ? undefined : quoted(value);
  if (found) {
    const end = blockEnd(lines, found.at, found.indent.length);
    if (written === undefined) lines.splice(found.at, end - found.at);
    else lines.splice(found.at, end - found.at, `${found.indent}${name ?? group}: ${written}${found.comment && (/^\s/.test(found.comment) ? found.comment : " " + found.comment)}`);
    if (parent && written === undefined && blockEnd(lines, parent.at) === parent.at + 1 && parent.value === "") lines.splice(parent.at, 1);
    return lines.join("\n");
  }
  if (written === undefined) return text;
  if (name !== undefined && parent) {
    if (parent.value !== "") return text; // in braces: it is left to the hand
    lines.splice(parent.at + 1, 0, `${childIndent(lines, parent.at, 0) ?? "  "}${name}: ${written}`);
    return lines.join("\n");
  }
  const added = name === undefined ? [`${group}: ${written}`] : [`${group}:`, `  ${name}: ${written}`];
  while (lines.length && lines[lines.length - 1].trim() === "") lines.pop();
  return [...lines, ...added, ""].join("\n");
}

/**
 * Adds bars to the chart: below the line of a character, where that is in the
 * chart, and otherwise at its end.
 * @param {string} text
 * @param {string[]} rows
 * @param {number} caret
 */
export function addToChart(text, rows, caret) {
  const lines = text.split("\n");
  const { found } = locate(lines, "chart");
  if (!found) return `${text.replace(/\n*$/, "\n")}chart: |\n${rows.map((r) => `  ${r}\n`).join("")}`;
  if (!found.block) {
    const before = found.value.replace(/^(["'])(.*)\1$/, "$2");
    lines.splice(found.at, 1, "chart: |", ...(before ? [`  ${before}`] : []), ...rows.map((r) => `  ${r}`));
    return lines.join("\n");
  }
  const end = blockEnd(lines, found.at);
  const at = text.slice(0, caret).split("\n").length; // the line after the caret's
  const place = at > found.at + 1 && at < end ? at : end;
  const indent = /^\s*/.exec(lines[found.at + 1] ?? "  ")?.[0] || "  ";
  lines.splice(place, 0, ...rows.map((r) => indent + r));
  return lines.join("\n");
}
