// @ts-check
// Small help with elements.

/** @type {<T extends HTMLElement = HTMLElement>(id: string) => T} */
// @ts-ignore: the page has them
export const $ = (id) => document.getElementById(id);

/** An element with attributes ("class", "for", ...; onX are listeners; false and undefined are left out) and children.
 * @param {string} tag @param {Record<string, any>} [attributes] @param {...(Node | string | undefined | null | false)} children
 * @returns {any} */
export function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === undefined || value === false || value === null) continue;
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
    else element.setAttribute(name, value === true ? '' : String(value));
  }
  element.append(.../** @type {(Node | string)[]} */ (children.filter((child) => child)));
  return element;
}

/** Words that a screen reader tells when they change. @param {HTMLElement} element @param {string} text */
export function say(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/** Once what stands on the page has been painted; soon in any case, for a hidden page paints nothing. */
export const painted = () => new Promise((done) => {
  requestAnimationFrame(() => setTimeout(done));
  setTimeout(done, 500);
});

let last = 0;
/** @param {string} stem */
export const freshId = (stem) => `${stem}-${++last}`;

/** Puts SVG made by the bench into an element. @param {HTMLElement} element @param {string} svg @param {string} label */
export function showSvg(element, svg, label) {
  element.innerHTML = svg;
  const drawing = element.querySelector('svg');
  if (!drawing) return;
  drawing.setAttribute('role', 'img');
  drawing.setAttribute('aria-label', label);
}

/** A table of texts, its first row as heading, each row's first cell as its name. @param {HTMLElement} table @param {string[][]} rows */
export function showTable(table, [head, ...rows]) {
  const line = (/** @type {string[]} */ cells) => make('tr', {}, make('th', { scope: 'row' }, cells[0]), ...cells.slice(1).map((cell) => make('td', {}, cell)));
  table.replaceChildren(
    make('thead', {}, make('tr', {}, ...head.map((text) => make('th', { scope: 'col' }, text)))), make('tbody', {}, ...rows.map(line)));
}

/** Scrolls to an element. @param {HTMLElement} element */
export function comeTo(element) {
  element.scrollIntoView({ block: 'start', behavior: matchMedia('(prefers-reduced-motion: reduce)').matches ? 'auto' : 'smooth' });
}

/** Calls `work` once nothing has come for a while. @param {() => void} work @param {number} usual wait in ms */
export function later(work, usual) {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let timer;
  return {
    go(wait = usual) {
      clearTimeout(timer);
      timer = setTimeout(work, wait);
    },
    cancel: () => clearTimeout(timer),
  };
}
