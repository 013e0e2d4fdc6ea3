// @ts-check
// A scene as the text file has it: an object whose sizes are texts as somebody typed them.

/** @typedef {Record<string, any>} Scene */

/** Parts of a JSON pointer. @param {string} pointer */
export const partsOf = (pointer) => pointer.split('/').slice(1).map((part) => part.replace(/~1/g, '/').replace(/~0/g, '~'));

/** @param {Scene} scene @param {string} pointer */
export function get(scene, pointer) {
  return partsOf(pointer).reduce((at, part) => (at === null || typeof at !== 'object' ? undefined : at[part]), /** @type {any} */ (scene));
}

/** Sets a value, or takes the key out where it is undefined; objects on the way come and go.
 * @param {Scene} scene @param {string} pointer @param {any} value */
export function set(scene, pointer, value) {
  const parts = partsOf(pointer), last = /** @type {string} */ (parts.pop());
  /** @type {any[]} */
  const way = [scene];
  for (const part of parts) {
    const at = way[way.length - 1];
    if (at[part] === undefined || at[part] === null || typeof at[part] !== 'object') {
      if (value === undefined) return;
      at[part] = {};
    }
    way.push(at[part]);
  }
  const owner = way[way.length - 1];
  if (value !== undefined) {
    owner[last] = value;
    return;
  }
  if (Array.isArray(owner)) owner.splice(Number(last), 1);
  else delete owner[last];
}

/** A scene of a text, which may hold comments: from // to the end of the line, or as in C. @param {string} text */
export const treeOf = (text) => JSON.parse(text.replace(/("(?:\\.|[^"\\\n])*")|\/\/[^\r\n]*|\/\*[^]*?\*\//g, (_, string) => string ?? ''));

/** @param {Scene} scene */
export const textOf = (scene) => `${JSON.stringify(scene, null, 2)}\n`;

/** @param {Scene} scene @returns {Scene} */
export const copyOf = (scene) => JSON.parse(JSON.stringify(scene));

/** A name for a file: what file systems and command lines take. @param {Scene} scene */
export function fileName(scene) {
  const safe = String(scene.name ?? '').trim().replace(/[^\p{L}\p{N}._-]+/gu, '-').replace(/^[-.]+|-+$/g, '');
  return safe || 'bag';
}

/** What "shape is "boxed" or "gusset"" asks: the sibling's key and its values.
 * @param {string | undefined} text */
export function whenOf(text) {
  if (!text) return undefined;
  const key = text.slice(0, text.indexOf(' is ')), values = [...text.matchAll(/"([^"]*)"/g)].map((found) => found[1]);
  return { key, values };
}
