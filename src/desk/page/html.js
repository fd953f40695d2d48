// Makes elements in one line each, and changes lists without losing what the reader was typing in.

/** @typedef {Node | string | null | undefined | false} Child */

/**
 * An element with attributes, listeners (`onclick`) and children. No style attribute: the page's
 * policy forbids them.
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} name
 * @param {Record<string, unknown>} [attributes]
 * @param {...(Child | Child[])} children
 * @returns {HTMLElementTagNameMap[K]}
 */
export function el(name, attributes = {}, ...children) {
  const element = document.createElement(name);
  setAttributes(element, attributes);
  element.append(.../** @type {(Node|string)[]} */ (children.flat().filter((c) => c !== null && c !== undefined && c !== false)));
  return element;
}

const SVG = 'http://www.w3.org/2000/svg';

/**
 * The same for the elements of a drawing.
 * @param {string} name
 * @param {Record<string, unknown>} [attributes]
 * @param {...Child} children
 * @returns {SVGElement}
 */
export function svg(name, attributes = {}, ...children) {
  const element = document.createElementNS(SVG, name);
  setAttributes(element, attributes);
  element.append(.../** @type {(Node|string)[]} */ (children.filter(Boolean)));
  return element;
}

/** @param {Element} element @param {Record<string, unknown>} attributes */
export function setAttributes(element, attributes) {
  for (const [key, value] of Object.entries(attributes)) {
    if (key.startsWith('on')) element.addEventListener(key.slice(2), /** @type {EventListener} */ (value));
    else if (value === false || value === null || value === undefined) element.removeAttribute(key);
    else element.setAttribute(key, value === true ? '' : String(value));
  }
}

/**
 * Puts new children into a box; whoever had the focus in it (known by `data-key`) keeps it, with
 * the text being typed.
 * @param {Element} box
 * @param {Child[]} children
 */
export function replaceKeepingFocus(box, children) {
  const held = box.contains(document.activeElement) ? /** @type {HTMLElement} */ (document.activeElement) : null;
  const key = held?.dataset.key;
  const text = held instanceof HTMLInputElement && held.type !== 'checkbox' ? held.value : null;
  box.replaceChildren(.../** @type {(Node|string)[]} */ (children.filter(Boolean)));
  if (!key) return;
  const again = /** @type {HTMLElement | null} */ (box.querySelector(`[data-key="${CSS.escape(key)}"]`));
  if (again instanceof HTMLInputElement && text !== null) again.value = text;
  again?.closest('tr')?.removeAttribute('hidden');
  again?.focus({ preventScroll: true });
}

/**
 * A drawing that the program sent, as nodes of this page. Only drawing comes through: no script,
 * no listener, nothing from elsewhere.
 * @param {string} source
 * @returns {SVGElement | null}
 */
export function drawingFrom(source) {
  if (!source) return null;
  const root = new DOMParser().parseFromString(source, 'image/svg+xml').documentElement;
  if (root.nodeName !== 'svg') return null;
  for (const bad of root.querySelectorAll('script, foreignObject, style')) bad.remove();
  for (const node of [root, ...root.querySelectorAll('*')]) {
    for (const attribute of [...node.attributes]) {
      const outside = /href$/.test(attribute.name) && !/^(#|data:image\/)/.test(attribute.value);
      if (attribute.name.startsWith('on') || attribute.name === 'style' || outside) node.removeAttribute(attribute.name);
    }
  }
  return /** @type {SVGElement} */ (/** @type {unknown} */ (document.importNode(root, true)));
}
