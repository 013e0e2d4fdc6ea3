// @ts-check
// Bags set aside, and laid side by side with what differs.
import { BagView } from './bag_view.js';
import { Bench, Stopped } from './bench.js';
import { $, comeTo, make, say, showTable } from './dom.js';
import { download, showPage } from './paper.js';
import { copyOf, textOf } from './scene.js';

/** @typedef {import('./keep.js').Version} Version */
/** @typedef {import('./scene.js').Scene} Scene */

export class Versions {
  /** @param {{ current: () => Scene, take: (scene: Scene) => void, changed: () => void }} page */
  constructor(page) {
    this.page = page;
    /** @type {Version[]} */
    this.list = [];
    this.bench = new Bench();
    /** @type {BagView[]} */
    this.views = [];
    $('compare').onclick = () => this.compare();
    $('compare-stop').onclick = () => this.bench.stop();
    $('lesson-sheet').onclick = () => this.lesson();
  }

  /** @param {Scene} scene @param {string} numbers */
  setAside(scene, numbers) {
    const kept = copyOf(scene), base = String(kept.name || 'bag');
    let name = base;
    for (let i = 2; this.list.some((version) => version.name === name); ++i) name = `${base} ${i}`;
    kept.name = name;
    this.list.push({ name, scene: kept, numbers });
    this.draw();
    this.page.changed();
    return name;
  }

  draw() {
    const list = $('aside-list');
    list.textContent = '';
    this.list.forEach((version, i) => {
      list.append(make('li', {},
        make('strong', {}, version.name), make('span', { class: 'hint' }, version.numbers),
        make('button', { type: 'button', class: 'quiet', 'aria-label': `Take ${version.name} back on the bench`, onclick: () => this.page.take(copyOf(version.scene)) }, 'Back on the bench'),
        make('button', { type: 'button', class: 'quiet', 'aria-label': `Drop ${version.name}`, onclick: () => this.drop(i) }, 'Drop')));
    });
    $('aside-none').hidden = this.list.length > 0;
    /** @type {HTMLButtonElement} */ ($('compare')).disabled = this.list.length === 0;
  }
  /** @param {number} i */
  drop(i) {
    this.list.splice(i, 1);
    this.draw();
    this.page.changed();
  }

  /** Those set aside and, where it is another, the bag on the bench. */
  bags() {
    const current = this.page.current(), plain = (/** @type {Scene} */ { name, ...rest }) => JSON.stringify(rest);
    const bags = this.list.map(({ scene }) => scene);
    if (!bags.some((bag) => plain(bag) === plain(current))) bags.push(copyOf(current));
    return bags;
  }

  async compare() {
    const bags = this.bags();
    if (bags.length < 2) {
      say($('compare-state'), 'The bag on the bench is the one set aside: change something first.');
      return;
    }
    if (this.bench.busy) this.bench.stop();
    this.clear();
    $('compare-stop').hidden = false;
    say($('compare-state'), `Hanging ${bags.length} bags`);
    try {
      const texts = JSON.stringify(bags.map(textOf));
      const found = await this.bench.call('bench_compare', [texts, ''], ({ stage }) => say($('compare-state'), `Hanging ${stage}`));
      say($('compare-state'), '');
      this.show(found);
    } catch (error) {
      say($('compare-state'), error instanceof Stopped ? 'Stopped.' : error instanceof Error ? error.message : String(error));
    }
    $('compare-stop').hidden = true;
  }

  clear() {
    this.views.forEach((view) => view.dispose());
    this.views = [];
    $('side-by-side').hidden = true;
  }

  /** @param {any} found */
  show(found) {
    $('side-by-side').hidden = false;
    say($('difference'), found.sentence);
    const row = $('side-views');
    row.textContent = '';
    const radius = Math.max(...found.models.map((/** @type {any} */ model) => BagView.radiusOf(model)));
    /** @type {any} */
    let orbit;
    found.models.forEach((/** @type {any} */ model, /** @type {number} */ i) => {
      const figure = make('figure', {});
      row.append(figure);
      const view = new BagView(figure, { orbit, small: true, onTurn: () => this.views.forEach((one) => one.redraw()) });
      orbit ??= view.orbit;
      figure.append(make('figcaption', {}, make('strong', {}, found.names[i]), ` ${found.differences[i] || (i === 0 ? 'the first' : '')}`));
      view.show(model, { radius });
      this.views.push(view);
    });
    showTable($('side-table'), [['In brackets: against the first', ...found.names],
      ...found.rows.map((/** @type {any} */ row) => [row.what, ...row.cells])]);
    const cautions = $('side-cautions');
    cautions.textContent = '';
    for (const text of found.cautions) cautions.append(make('li', {}, text));
    $('side-report').onclick = () => showPage('Bags compared', found.html, 'compare.html');
    $('side-json').onclick = () => download('comparison.json', `${JSON.stringify(found.comparison, null, 2)}\n`);
    if (!document.activeElement?.closest('#form')) comeTo($('side-by-side')); // not away from what is typed
  }

  async lesson() {
    say($('compare-state'), 'Making the lesson sheet');
    try {
      const { html } = await this.bench.call('bench_lesson', []);
      say($('compare-state'), '');
      showPage('Lesson sheet', html, 'lesson.html');
    } catch (error) {
      say($('compare-state'), error instanceof Error ? error.message : String(error));
    }
  }
}
