// @ts-check
// Little line drawings of what can be chosen, and of a whole bag. Drawn with the colour of the text.

/** @param {string} inside @param {string} [box] */
const svg = (inside, box = '0 0 64 64') =>
  `<svg viewBox="${box}" fill="none" stroke="currentColor" stroke-width="2" stroke-linejoin="round" stroke-linecap="round">${inside}</svg>`;

/** @type {Record<string, Record<string, string>>} */
const PICTURES = {
  'bag.shape': {
    boxed: svg('<path d="M10 26 H46 V58 H10Z"/><path d="M46 26 L56 20 V50 L46 58"/><path d="M10 26 L20 20 H56"/><path d="M18 26 C18 6 38 6 38 26"/>'),
    gusset: svg('<path d="M10 26 H44 V58 H10Z"/><path d="M44 26 L56 18 V50 L44 58"/><path d="M10 26 L22 18 H56"/><path d="M50 22 V54" stroke-dasharray="3 3"/><path d="M18 26 C18 6 36 6 36 26"/>'),
    rounded: svg('<path d="M8 26 H56 V44 C56 54 50 58 42 58 H22 C14 58 8 54 8 44Z"/><path d="M8 26 C12 2 52 2 56 26"/>'),
    sack: svg('<path d="M14 22 H50 V60 H14Z"/><path d="M14 27 H50" stroke-dasharray="3 3"/><path d="M22 22 C22 4 42 4 42 22"/>'),
  },
  'straps.style': {
    'two handles': svg('<path d="M8 34 H56 V60 H8Z"/><path d="M18 34 C18 8 46 8 46 34"/><path d="M22 34 C22 16 42 16 42 34" stroke-dasharray="3 3"/>'),
    'one shoulder strap': svg('<path d="M12 40 H52 V60 H12Z"/><path d="M12 40 C12 -6 52 -6 52 40"/>'),
  },
  'straps.attachment.pattern': {
    box: svg('<rect x="18" y="6" width="28" height="52"/><rect x="23" y="22" width="18" height="22" stroke-dasharray="3 3"/>'),
    'box with cross': svg('<rect x="18" y="6" width="28" height="52"/><rect x="23" y="22" width="18" height="22" stroke-dasharray="3 3"/><path d="M23 22 L41 44 M41 22 L23 44" stroke-dasharray="3 3"/>'),
    rows: svg('<rect x="18" y="6" width="28" height="52"/><path d="M23 24 H41 M23 34 H41 M23 44 H41" stroke-dasharray="3 3"/>'),
    bartacks: svg('<rect x="18" y="6" width="28" height="52"/><path d="M23 26 l3 -3 3 3 3 -3 3 3 3 -3 3 3 M23 42 l3 -3 3 3 3 -3 3 3 3 -3 3 3"/>'),
    rivets: svg('<rect x="18" y="6" width="28" height="52"/><circle cx="32" cy="24" r="4"/><circle cx="32" cy="42" r="4"/>'),
    'in the hem': svg('<path d="M4 20 H60 M4 44 H60"/><path d="M4 40 H60 M4 24 H60" stroke-dasharray="3 3"/><path d="M22 20 V4 M42 20 V4"/>'),
    'to the base': svg('<path d="M6 14 H58 V60 H6Z"/><path d="M24 4 V60 M40 4 V60"/><path d="M27 16 V60 M37 16 V60" stroke-dasharray="3 3"/>'),
  },
  'base.kind': {
    none: svg('<path d="M8 20 L14 52 C26 58 38 58 50 52 L56 20"/>'),
    'stitched in': svg('<path d="M8 16 L12 50 H52 L56 16"/><path d="M12 46 H52" stroke-width="5"/><path d="M14 52 H50" stroke-dasharray="3 3"/>'),
    'in a pocket': svg('<path d="M8 16 L12 52 H52 L56 16"/><path d="M17 46 H47" stroke-width="4"/><path d="M12 40 H52" stroke-dasharray="3 3"/>'),
  },
  'contents.kind': {
    even: svg('<path d="M10 12 L14 54 H50 L54 12"/><path d="M16 44 H48"/><path d="M20 22 V38 m-3 -4 3 5 3 -5 M32 22 V38 m-3 -4 3 5 3 -5 M44 22 V38 m-3 -4 3 5 3 -5"/>'),
    items: svg('<path d="M10 12 L14 54 H50 L54 12"/><path d="M17 30 H25 V53 H17Z M26 24 H32 V53 H26Z"/><circle cx="42" cy="45" r="7"/>'),
    loose: svg('<path d="M10 12 L14 54 H50 L54 12"/><path d="M12 34 C22 22 42 22 52 34"/><circle cx="24" cy="44" r="3"/><circle cx="34" cy="38" r="3"/><circle cx="42" cy="46" r="3"/>'),
  },
  'support.kind': {
    hand: svg('<path d="M12 20 h40 a6 6 0 0 1 0 12 h-40 a6 6 0 0 1 0 -12Z"/><path d="M22 20 V32 M32 20 V32 M42 20 V32"/><path d="M14 60 C14 40 24 34 32 26 C40 34 50 40 50 60"/>'),
    hook: svg('<circle cx="32" cy="20" r="8"/><path d="M32 12 V2"/><path d="M18 60 C18 20 22 12 32 12 C42 12 46 20 46 60"/>'),
  },
};

/** '' where there is none. @param {string} key @param {string} choice */
export const pictureOf = (key, choice) => PICTURES[key]?.[choice] ?? '';

/** A bag as a person would sketch it, by its shape, with its contents' weight. @param {Record<string, any>} scene */
export const bagPicture = (scene) => PICTURES['bag.shape'][scene.bag?.shape] ?? PICTURES['bag.shape'].boxed;
