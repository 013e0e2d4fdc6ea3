// @ts-check
// A hung bag to turn and look at, drawn by the report's own viewer (viz/page/viewer): a canvas, a
// slider for the load, what is coloured, where it is cut.
import { shapeAt, unpack } from '../../../viz/page/viewer/bag.js';
import { Drawing } from '../../../viz/page/viewer/drawing.js';
import { takeHands } from '../../../viz/page/viewer/hands.js';
import { measured } from '../../../viz/page/viewer/measured.js';
import { Orbit } from '../../../viz/page/viewer/orbit.js';
import { freshId, make, say } from './dom.js';

/** One canvas with one bag. Views that share an orbit turn together. */
export class BagView {
  /** @param {HTMLElement} box @param {{ orbit?: any, onTurn?: () => void, small?: boolean }} [shared] */
  constructor(box, shared = {}) {
    this.orbit = shared.orbit ?? new Orbit();
    this.onTurn = shared.onTurn ?? (() => this.redraw());
    this.load = 1;
    this.field = 0;
    this.stitch = -1;
    this.coarse = false; // a mesh that tells nothing of single stitches
    this.cut = { kind: 'none', share: 0.5 };
    this.waiting = false;
    /** @type {any} */
    this.drawing = undefined;
    /** What unpack() of the viewer makes of a model. @type {any} */
    this.bag = undefined;
    this.canvas = make('canvas', { class: 'bag', tabindex: 0, role: 'img', 'aria-label': 'the bag in 3-D' });
    box.append(this.canvas);
    const gl = this.canvas.getContext('webgl2', { alpha: false, antialias: true, preserveDrawingBuffer: true });
    if (!gl) {
      this.canvas.hidden = true;
      box.append(make('p', { class: 'hint' }, 'This browser cannot draw in 3-D (WebGL 2 is missing or switched off); the numbers are the same.'));
      return;
    }
    this.drawing = new Drawing(this.canvas, gl);
    const turned = (/** @type {(...args: any[]) => void} */ change) => (/** @type {any[]} */ ...args) => {
      if (!this.bag) return;
      change(...args);
      this.onTurn();
    };
    takeHands(this.canvas, {
      turnBy: turned((degrees, upwards) => this.orbit.turnBy(degrees, upwards)),
      zoomBy: turned((factor) => this.orbit.zoomBy(factor)),
      moveBy: turned((x, y) => this.orbit.panBy(-x * this.drawing.metres_per_pixel, y * this.drawing.metres_per_pixel)),
      goBack: turned(() => this.orbit.look('corner')),
      chooseAt: turned((x, y) => this.chooseStitch(this.drawing.stitchAt(x, y))),
      stepStitch: turned((by) => this.chooseStitch(Math.min(this.bag.stitches.length - 1, Math.max(-1, this.stitch + by)))),
    });
    new ResizeObserver(() => this.redraw()).observe(this.canvas);
    this.canvas.addEventListener('webglcontextrestored', () => this.redraw());
    if (!shared.small) this.addPanel(box);
  }

  /** @param {HTMLElement} box */
  addPanel(box) {
    const load = freshId('load'), colour = freshId('colour'), cut = freshId('cut'), at = freshId('cut-at');
    this.loadSlider = make('input', { id: load, type: 'range', min: 0, max: 100, value: 100, oninput: () => this.chooseLoad(this.loadSlider.value / 100) });
    this.loadWords = make('output', { for: load, class: 'load-words' });
    this.fieldList = make('select', { id: colour, onchange: () => this.chooseField(Number(this.fieldList.value)) });
    const choose = () => this.chooseCut(this.cutList.value, this.cutSlider.value / 100);
    this.cutList = make('select', { id: cut, onchange: choose },
      ...[['none', 'nothing'], ['width', 'the front'], ['depth', 'one side'], ['level', 'the top']].map(([value, text]) => make('option', { value }, text)));
    this.cutSlider = make('input', { id: at, type: 'range', min: 0, max: 100, value: 50, disabled: true, oninput: choose });
    this.bar = make('div', { class: 'colour-bar', 'aria-hidden': 'true' });
    this.barWords = make('p', { class: 'hint' });
    this.stitchWords = make('p', { class: 'hint', role: 'status' });
    const look = (/** @type {string} */ name, /** @type {string} */ text) => make('button', {
      type: 'button', class: 'quiet', onclick: () => {
        this.orbit.look(name);
        this.onTurn();
      },
    }, text);
    box.append(
      make('div', { class: 'colour' }, this.bar, this.barWords),
      make('div', { class: 'view-panel' },
        make('div', { class: 'wide-row' }, make('label', { for: load }, 'Load, empty to full'), this.loadSlider, this.loadWords),
        make('div', {}, make('label', { for: colour }, 'Colour'), this.fieldList),
        make('div', {}, make('label', { for: cut }, 'Cut away'), this.cutList),
        make('div', {}, make('label', { for: at }, 'Where to cut'), this.cutSlider),
        make('div', { class: 'looks' }, look('corner', 'First view'), look('front', 'Front'), look('side', 'Side'), look('below', 'From below'))),
      this.stitchWords,
      make('p', { class: 'hint' }, 'Drag to turn, wheel or pinch to come nearer. Keys: arrows turn, + and - zoom, Home goes back, n and p go from stitch to stitch.'));
  }

  /** @param {any} model as the bench tells it @param {{ radius?: number, coarse?: boolean }} [how] the radius of what is to
   * be seen, in metres, for one scale; a coarse mesh tells nothing of single stitches */
  show(model, { radius, coarse = false } = {}) {
    if (!this.drawing) return;
    this.coarse = coarse;
    this.bag = unpack(model);
    if (radius) this.bag.frame.radius = radius;
    this.drawing.showBag(this.bag);
    if (this.field >= this.bag.fields.length) this.field = 0;
    if (this.fieldList) {
      this.fieldList.textContent = '';
      this.bag.fields.forEach((/** @type {any} */ field, /** @type {number} */ i) => this.fieldList.add(new Option(field.name, String(i), false, i === this.field)));
    }
    this.chooseField(this.field);
    this.chooseLoad(this.load);
    this.chooseCut(this.cut.kind, this.cut.share);
    this.chooseStitch(-1);
  }
  /** @param {any} model */
  static radiusOf(model) {
    return unpack(model).frame.radius;
  }

  /** @param {number} number */
  chooseField(number) {
    this.field = number;
    this.drawing.showField(number);
    const field = this.bag.fields[number];
    if (this.bar && field) {
      const stops = this.bag.colours.map((/** @type {number[]} */ c) => `rgb(${c.map((v) => Math.round(255 * v)).join(',')})`);
      this.bar.style.background = `linear-gradient(to right, ${stops.join(',')})`;
      say(this.barWords, `${measured(field.low, field.unit)} to ${measured(field.high, field.unit)}${field.more ? ' and more' : ''}: ${field.name}, ${field.at}`);
    }
    this.redraw();
  }
  /** @param {number} share */
  chooseLoad(share) {
    this.load = share;
    const shape = shapeAt(this.bag, share);
    this.drawing.showShape(shape);
    const list = shape.readings.map((/** @type {any} */ r) => `${r.name} ${measured(r.value, r.unit)}`).join(', ');
    const told = `${Math.round(100 * share)} % of the load${list ? `: ${list}` : ''}`;
    if (this.loadWords) say(this.loadWords, told);
    this.told = told;
    this.chooseCut(this.cut.kind, this.cut.share);
  }
  /** @param {string} kind @param {number} share */
  chooseCut(kind, share) {
    this.cut = { kind, share };
    if (this.cutSlider) this.cutSlider.disabled = kind === 'none';
    this.drawing.showCut(kind, share);
    this.redraw();
  }
  /** @param {number} number */
  chooseStitch(number) {
    this.stitch = number;
    this.drawing.showStitch(number);
    const s = this.bag.stitches[number];
    if (this.stitchWords) {
      const force = (/** @type {number} */ newtons) => measured(newtons * this.bag.force.per_SI, this.bag.force.unit);
      say(this.stitchWords, this.bag.stitches.length === 0 ? ''
        : this.coarse ? 'What each stitch carries comes with the finest mesh.'
        : !s ? 'Click a stitch to read its force.'
        : `Stitch ${s.number} of ${s.site}: ${force(s.total_N)} at full load; along the strap ${force(s.along_N)}, across it ${force(s.across_N)}, lifting it off ${force(s.peel_N)}.`);
    }
    this.redraw();
  }

  redraw() {
    if (this.waiting || !this.bag) return;
    this.waiting = true;
    requestAnimationFrame(() => {
      this.waiting = false;
      this.drawing.draw(this.orbit);
      this.canvas.setAttribute('aria-label', `${this.bag.name} in 3-D, ${this.told}, ${this.orbit.words()}`);
    });
  }
  /** Gives back what the graphics card holds. */
  dispose() {
    this.bag = undefined;
    this.drawing?.renderer.dispose();
    this.drawing?.renderer.forceContextLoss();
    this.canvas.remove();
  }
}

