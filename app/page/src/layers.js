// @ts-check
// The layers of each region as a stack, outside at the top: put in another order by hand or by keys,
// and how each is joined to the one above it stands between them.
import { make, say } from './dom.js';
import { below, words } from './form.js';
import { copyOf, get, set } from './scene.js';

/** @typedef {import('./form.js').Form} Form */

const REGIONS = [
  { key: 'upper', title: 'Walls', split: 'Walls, upper part', from: '' },
  { key: 'lower', title: 'Walls, lower part', split: 'Walls, lower part', from: 'upper' },
  { key: 'base', title: 'Bottom', split: 'Bottom', from: 'lower' },
  { key: 'hem', title: 'Extra plies in the hem', split: 'Extra plies in the hem', from: '' },
];
const JOIN_OF_ONE_MOVED_DOWN = 'sewn at edges';

/** Takes a layer to another place; the first has no join, every other has one.
 * @template {Record<string, any>} L @param {L[]} layers @param {number} from @param {number} to @returns {L[]} */
export function moved(layers, from, to) {
  const out = layers.map((layer) => ({ ...layer }));
  const [taken] = out.splice(from, 1);
  out.splice(Math.min(out.length, Math.max(0, to)), 0, taken);
  return joined(out);
}
/** @template {Record<string, any>} L @param {L[]} layers @returns {L[]} */
export function joined(layers) {
  return layers.map((layer, i) => {
    if (i > 0) return layer.join === undefined ? { ...layer, join: JOIN_OF_ONE_MOVED_DOWN } : layer;
    const { join, quilting_pitch, ...first } = layer;
    return /** @type {any} */ (first);
  });
}

export class Stack {
  /** @param {HTMLElement} box @param {Form} form @param {(text: string) => void} tell what happened, for who does not see it */
  constructor(box, form, tell) {
    this.box = box;
    this.form = form;
    this.tell = tell;
  }

  draw() {
    this.form.drop('/layers');
    this.box.textContent = '';
    const split = get(this.form.scene, '/bag/upper_height') !== undefined;
    for (const region of REGIONS) {
      const part = make('section', { class: 'region' }, make('h3', {}, split ? region.split : region.title));
      this.box.append(part);
      this.drawRegion(part, region);
    }
    this.form.refresh();
  }

  /** @param {HTMLElement} part @param {{ key: string, title: string, from: string }} region */
  drawRegion(part, region) {
    const layers = get(this.form.scene, `/layers/${region.key}`);
    if (!Array.isArray(layers)) {
      const source = region.from && this.layersOf(region.from);
      part.append(
        make('p', { class: 'hint' }, region.from ? 'The same layers as the part above.' : region.key === 'hem' ? 'None.' : 'Nothing yet.'),
        make('button', { type: 'button', class: 'quiet', onclick: () => this.put(region.key, source ? copyOf(source) : [{}]) },
          region.from ? 'Give it layers of its own' : 'Add a layer'));
      return;
    }
    const list = make('ol', { class: 'stack', 'aria-label': `${region.title}: layers from outside to inside` });
    layers.forEach((_, i) => list.append(this.layer(region, layers, i)));
    part.append(make('p', { class: 'side' }, 'outside'), list, make('p', { class: 'side' }, 'inside'),
      make('button', { type: 'button', class: 'quiet', onclick: () => this.put(region.key, joined([...layers, {}]), layers.length) }, 'Add a layer inside'));
    if (region.key !== 'upper') {
      part.append(make('button', { type: 'button', class: 'quiet', onclick: () => this.put(region.key, undefined) },
        region.from ? 'The same as the part above again' : 'Without'));
    }
  }
  /** @param {string} key @returns {any} */
  layersOf(key) {
    const own = get(this.form.scene, `/layers/${key}`);
    const from = REGIONS.find((region) => region.key === key)?.from;
    return own ?? (from ? this.layersOf(from) : undefined);
  }

  /** @param {{ key: string, title: string }} region @param {any[]} layers @param {number} i */
  layer(region, layers, i) {
    const pointer = `/layers/${region.key}/${i}`, keys = below(this.form.library.keys, `layers.${region.key}[]`);
    const keyOf = (/** @type {string} */ name) => /** @type {any} */ (keys.find(({ key }) => key.endsWith(`.${name}`)));
    const goods = this.form.library.materials.find(({ id }) => id === layers[i].material);
    const name = goods?.name ?? 'this layer';
    const go = (/** @type {number} */ to) => this.move(region.key, layers, i, to);
    const handle = make('button', {
      type: 'button', class: 'handle', 'aria-label': `Move ${name}: arrow keys up and down, or drag`, title: 'Drag, or arrow keys',
      onkeydown: (/** @type {KeyboardEvent} */ event) => {
        const by = event.key === 'ArrowUp' ? -1 : event.key === 'ArrowDown' ? 1 : 0;
        if (by === 0) return;
        event.preventDefault();
        go(i + by);
      },
      onpointerdown: (/** @type {PointerEvent} */ event) => this.drag(event, region.key, layers, i),
    }, '⠿');
    const glance = make('p', { class: 'glance' }, glanceOf(goods, this.form.scene.units));
    const more = make('details', {}, make('summary', {}, 'more of this layer'));
    for (const rest of ['quilting_pitch', 'thickness', 'warp_angle']) this.form.addKey(more, keyOf(rest), `${pointer}/${rest}`);
    const item = make('li', { class: `ply ${goods?.category ?? 'unknown'}`, 'data-place': i });
    if (i > 0) {
      const join = make('div', { class: 'joint' });
      this.form.addKey(join, keyOf('join'), `${pointer}/join`);
      item.append(join);
    }
    const body = make('div', { class: 'ply-body' }, make('span', { class: 'swatch', style: `--thick:${thicknessOf(goods)}px`, 'aria-hidden': 'true' }), handle);
    this.form.addKey(body, keyOf('material'), `${pointer}/material`);
    const takeOut = make('button', {
      type: 'button', class: 'quiet small', 'aria-label': `Take out ${name}`,
      onclick: () => this.put(region.key, joined(layers.filter((_, k) => k !== i))),
    }, 'Take out');
    item.append(body, make('div', { class: 'ply-foot' }, glance, takeOut), more);
    return item;
  }

  /** @param {string} region @param {any[]} layers @param {number} from @param {number} to */
  move(region, layers, from, to) {
    if (to < 0 || to >= layers.length || to === from) return;
    this.put(region, moved(layers, from, to), to);
    this.tell(`Now layer ${to + 1} of ${layers.length} from outside.`);
  }

  /** Follows a finger or the mouse from the handle. @param {PointerEvent} event @param {string} region @param {any[]} layers @param {number} from */
  drag(event, region, layers, from) {
    const handle = /** @type {HTMLElement} */ (event.currentTarget), item = /** @type {HTMLElement} */ (handle.closest('li'));
    const list = /** @type {HTMLElement} */ (item.parentElement), y0 = event.clientY;
    handle.setPointerCapture(event.pointerId);
    item.classList.add('held');
    let to = from;
    const follow = (/** @type {PointerEvent} */ moving) => {
      item.style.transform = `translateY(${moving.clientY - y0}px)`;
      const others = [...list.children].filter((other) => other !== item);
      to = others.filter((other) => {
        const box = other.getBoundingClientRect();
        return box.top + box.height / 2 < moving.clientY;
      }).length;
    };
    const drop = () => {
      handle.removeEventListener('pointermove', follow);
      item.classList.remove('held');
      item.style.transform = '';
      this.move(region, layers, from, to);
    };
    handle.addEventListener('pointermove', follow);
    handle.addEventListener('pointerup', drop, { once: true });
    handle.addEventListener('pointercancel', () => {
      to = from;
      drop();
    }, { once: true });
  }

  /** @param {string} region @param {any} layers @param {number} [focus] the layer whose handle is taken up again */
  put(region, layers, focus) {
    set(this.form.scene, `/layers/${region}`, Array.isArray(layers) && layers.length === 0 && region !== 'upper' ? undefined : layers);
    this.draw();
    this.form.changed(`/layers/${region}`);
    if (focus === undefined) return;
    const items = this.box.querySelectorAll(`section:nth-of-type(${REGIONS.findIndex(({ key }) => key === region) + 1}) .handle`);
    /** @type {HTMLElement | undefined} */ (items[focus])?.focus();
  }

  /** After a change of one value: figures and colours of the plies. */
  refresh() {
    for (const item of /** @type {NodeListOf<HTMLElement>} */ (this.box.querySelectorAll('.ply'))) {
      const select = /** @type {HTMLSelectElement | null} */ (item.querySelector('.field.material select'));
      const goods = this.form.library.materials.find(({ id }) => id === select?.value);
      item.className = `ply ${goods?.category ?? 'unknown'}`;
      item.querySelector('.swatch')?.setAttribute('style', `--thick:${thicknessOf(goods)}px`);
      say(/** @type {HTMLElement} */ (item.querySelector('.glance')), glanceOf(goods, this.form.scene.units));
    }
  }
}

/** Pixels: a quilting cotton is seen, a foam is not a brick. @param {import('./form.js').Material | undefined} goods */
const thicknessOf = (goods) => Math.round(Math.min(22, 3 + 4 * 1e3 * (goods?.thickness_m ?? 0.3)));

/** @param {import('./form.js').Material | undefined} goods @param {string | undefined} units of the scene */
export function glanceOf(goods, units) {
  if (!goods) return '';
  const parts = [goods.category], inches = units === 'in';
  const shown = (/** @type {number | undefined} */ value, /** @type {number} */ per_SI, /** @type {string} */ unit) => {
    if (value) parts.push(`${Number((per_SI * value).toPrecision(2))} ${unit}`);
  };
  shown(goods.areal_mass_kg_per_m2, inches ? 0.83612736 / 0.028349523125 : 1e3, inches ? 'oz/yd²' : 'g/m²');
  shown(goods.thickness_m, inches ? 1 / 0.0254 : 1e3, inches ? 'in' : 'mm');
  if (goods.grade) parts.push(words(goods.grade));
  return parts.join(' · ');
}
