// @ts-check
// The finished front of the bag, flat and to scale, with the strap ends and every stitch of them.

/** What bench_check tells of it, in metres.
 * @typedef {{ width_m: number, height_m: number, corner_radius_m: number, hem_m: number, upper_height_m: number,
 *   lengthwise_seams: number, strap?: { width_m: number, overlap_m: number, two_handles: boolean, spacing_m: number,
 *   stitches_m: [number, number][] } }} Front */

/** @param {number} value in mm */
const mm = (value) => (1e3 * value).toFixed(2);

/** @param {Front} front @returns {string} */
export function frontSvg(front) {
  const { width_m: w, height_m: h, strap } = front, r = Math.min(front.corner_radius_m, w / 2, h);
  const above = strap ? Math.min(0.12, 0.35 * h) : 0.01, edge = 0.012;
  /** @type {string[]} */
  const parts = [];
  parts.push(`<path class="panel" d="M0,0 H${mm(w)} V${mm(h - r)} ${r > 0 ? `a${mm(r)},${mm(r)} 0 0 1 ${mm(-r)},${mm(r)}` : ''} H${mm(r)} ${r > 0 ? `a${mm(r)},${mm(r)} 0 0 1 ${mm(-r)},${mm(-r)}` : ''} Z"/>`);
  if (front.hem_m > 0) parts.push(`<path class="sewn" d="M0,${mm(front.hem_m)} H${mm(w)}"/>`);
  if (front.upper_height_m > 0) parts.push(`<path class="seam" d="M0,${mm(front.upper_height_m)} H${mm(w)}"/>`);
  for (let i = 1; i <= front.lengthwise_seams; ++i) {
    parts.push(`<path class="seam" d="M${mm((w * i) / (front.lengthwise_seams + 1))},0 V${mm(h)}"/>`);
  }
  if (strap) {
    const centres = strap.two_handles ? [w / 2 - strap.spacing_m / 2, w / 2 + strap.spacing_m / 2] : [];
    for (const x of centres) parts.push(strapEnd(strap, x, above));
  }
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="${mm(-edge)} ${mm(-above - edge)} ${mm(w + 2 * edge)} ${mm(h + above + 2 * edge)}">` +
    `<g>${parts.join('')}</g></svg>`;
}

/** @param {NonNullable<Front['strap']>} strap @param {number} x @param {number} above */
function strapEnd(strap, x, above) {
  const dots = strap.stitches_m.map(([down, across]) => `<circle cx="${mm(x + across)}" cy="${mm(down)}" r="0.9"/>`).join('');
  return `<rect class="strap" x="${mm(x - strap.width_m / 2)}" y="${mm(-above)}" width="${mm(strap.width_m)}" height="${mm(above + strap.overlap_m)}"/>` +
    `<g class="stitches">${dots}</g>`;
}

/** One strap end, large. @param {NonNullable<Front['strap']>} strap @returns {string} */
export function strapEndSvg(strap) {
  const edge = 0.25 * strap.width_m, above = 0.4 * strap.width_m;
  const lowest = Math.max(strap.overlap_m, ...strap.stitches_m.map(([down]) => down));
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="${mm(-strap.width_m / 2 - edge)} ${mm(-above)} ${mm(strap.width_m + 2 * edge)} ${mm(lowest + above + edge)}">` +
    `<rect class="panel" x="${mm(-strap.width_m / 2 - edge)}" y="0" width="${mm(strap.width_m + 2 * edge)}" height="${mm(lowest + edge)}"/>` +
    `${strapEnd(strap, 0, above)}</svg>`;
}
