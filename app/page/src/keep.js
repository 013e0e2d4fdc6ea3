// @ts-check
// What the browser keeps between visits: the bag on the bench and those set aside. Nothing leaves
// the machine.

const KEY = 'totebench-page-1';

/** @typedef {{ scene: import('./scene.js').Scene, aside: Version[] }} Kept */
/** @typedef {{ name: string, scene: import('./scene.js').Scene, numbers: string }} Version */

/** @returns {Kept | undefined} */
export function recall() {
  try {
    const text = localStorage.getItem(KEY);
    const kept = text ? JSON.parse(text) : undefined;
    if (!kept || typeof kept.scene !== 'object' || kept.scene === null) return undefined;
    return { scene: kept.scene, aside: Array.isArray(kept.aside) ? kept.aside : [] };
  } catch {
    return undefined;
  }
}

/** Says how it went. @param {Kept} kept */
export function keep(kept) {
  try {
    localStorage.setItem(KEY, JSON.stringify(kept));
    return `Kept in this browser at ${new Date().toLocaleTimeString([], { hour: '2-digit', minute: '2-digit' })}; nothing leaves this machine.`;
  } catch {
    return 'This browser keeps nothing for a page like this: download the scene before you close it.';
  }
}
