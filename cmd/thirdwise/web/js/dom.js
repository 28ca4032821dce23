/**
 * Makes an element. Text is always text: nothing that an exercise says becomes
 * markup.
 * @template {keyof HTMLElementTagNameMap} T
 * @param {T} tag
 * @param {Record<string, any>} [attributes] of these, functions are event listeners
 * @param {...(Node | string | undefined)} children
 * @returns {HTMLElementTagNameMap[T]}
 */
export function h(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  setAttributes(element, attributes);
  element.append(...children.filter((c) => c !== undefined));
  return element;
}

/**
 * Makes a button.
 * @param {string} name
 * @param {() => void} act
 */
export function button(name, act) {
  return h("button", { type: "button", click: act }, name);
}

/**
 * Makes an element of a drawing.
 * @template {keyof SVGElementTagNameMap} T
 * @param {T} tag
 * @param {Record<string, any>} [attributes]
 * @param {...(Node | string)} children
 * @returns {SVGElementTagNameMap[T]}
 */
export function s(tag, attributes = {}, ...children) {
  const element = document.createElementNS("http://www.w3.org/2000/svg", tag);
  setAttributes(element, attributes);
  element.append(...children);
  return element;
}

/**
 * @param {Element} element
 * @param {Record<string, any>} attributes
 */
function setAttributes(element, attributes) {
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "function") element.addEventListener(name, value);
    else if (typeof value === "boolean") element.toggleAttribute(name, value);
    else if (value !== undefined) element.setAttribute(name, String(value));
  }
}

/**
 * Writes a chord's symbol, a key or a pitch as musicians do.
 * @param {string} ascii
 */
export function musical(ascii) {
  return ascii
    .replace(/#/g, "♯")
    .replace(/([A-G])(b+)/g, (_, letter, flats) => letter + "♭".repeat(flats.length))
    .replace(/b(?=\d)/g, "♭");
}

/**
 * The note of a pitch, without its octave.
 * @param {string} pitch
 */
export function noteOf(pitch) {
  return pitch.replace(/-?\d+$/, "");
}

/**
 * Says a chord's symbol or a pitch in words that a screen reader reads right.
 * @param {string} ascii
 */
export function spoken(ascii) {
  return musical(ascii).replace(/♯/g, " sharp ").replace(/♭/g, " flat ").replace(/\s+/g, " ").trim();
}

/**
 * Offers bytes as a file.
 * @param {Blob} blob
 * @param {string} name
 */
export function download(blob, name) {
  const url = URL.createObjectURL(blob);
  const link = h("a", { href: url, download: name });
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}

/**
 * Reads a block that the page holds.
 * @param {string} id
 */
export function held(id) {
  const text = document.getElementById(id)?.textContent;
  if (!text) throw new Error(`the page lacks its ${id}`);
  return text.trim();
}
