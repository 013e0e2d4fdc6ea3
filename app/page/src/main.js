// @ts-check
// The bench on a page: what is on it, what she types, what the solver says.
import { inShort, showAnswer } from './answer.js';
import { BagView } from './bag_view.js';
import { Bench, missing } from './bench.js';
import { $, comeTo, later, make, painted, say, showSvg, showTable } from './dom.js';
import { EXAMPLES, LESSON, STARTS } from './examples.js';
import { Form, below, lastOf } from './form.js';
import { frontSvg, strapEndSvg } from './front.js';
import { Hanging } from './hanging.js';
import { keep, recall } from './keep.js';
import { Stack } from './layers.js';
import { download, printPattern, showPage } from './paper.js';
import { bagPicture } from './pictures.js';
import { copyOf, fileName, set, textOf, treeOf } from './scene.js';
import { Versions } from './versions.js';
import { Rating } from './rating.js';

/** @typedef {import('./scene.js').Scene} Scene */

const PAUSE_CHECK = 120, PAUSE_HANG = 450, PAUSE_KEEP = 600; // ms after the last keystroke
const PARTS = [
  { path: 'bag', title: 'The bag', open: true },
  { path: 'layers', title: 'Layers', open: true },
  { path: 'straps', title: 'Straps and their stitches', open: true },
  { path: 'base', title: 'Base sheet', open: true },
  { path: 'contents', title: 'What is carried', open: true },
  { path: 'support', title: 'What it hangs on', open: false },
  { path: 'seams', title: 'Seams', open: false },
  { path: 'feet', title: 'Feet', open: false },
];
const SHEET_PARTS = [
  { path: 'sheet', title: 'The sheet', open: true }, { path: 'supports', title: 'Supports', open: true },
  { path: 'loads', title: 'Loads', open: true }, { path: 'probes', title: 'Probes', open: false },
];
const MORE = [
  { path: 'mesh', title: 'How it is solved: mesh', open: false }, { path: 'solve', title: 'How it is solved: search', open: false },
  { path: 'rating', title: 'Rating', open: false }, { path: 'use', title: 'Use', open: false },
];
const BESIDE_PARTS = ['schema_version', 'kind', '$schema', 'name', 'units']; // asked for elsewhere, or not at all

/** @type {Scene} */
let scene = {};
/** @type {any} */
let library;
/** @type {Form} */
let form;
/** @type {Stack | undefined} */
let stack;
/** @type {import('./answer.js').Answer | undefined} */
let answer;
/** @type {import('./hanging.js').Report | undefined} */
let report;
/** @type {BagView} */
let view;
/** @type {() => void} */
let isReady;
/** What is asked for before the solver is there waits for it. @type {Promise<void>} */
const ready = new Promise((done) => (isReady = done));
let good = false, hungText = '', checks = 0, typedAt = 0;
let forPaper = 0; // pieces that a ruler does not draw

const reader = new Bench();
const lacks = missing();
const hanging = new Hanging({
  onHung: (seconds) => rating.knows(seconds),
  onStage: (stage, hint) => state(stage + (hint ? ` (${hint})` : ''), true),
  onAnswer: (found, sharpness, told) => {
    answer = found;
    report = told ?? report;
    $('answer').classList.remove('old');
    showAnswer(found, sharpness);
    view.show(found.model, { coarse: found.coarse });
    $('view').className = 'shown';
    enable();
  },
  onEnd: (told) => state(told, false),
  onFault: (sentence) => state(sentence, false),
});
const versions = new Versions({ current: () => scene, take: (taken) => putOnBench(taken), changed: () => keeping.go() });
const rating = new Rating({ scene: () => scene });

/** @param {string} text @param {boolean} busy */
function state(text, busy) {
  say($('state'), text);
  $('stop').hidden = !busy;
  document.body.classList.toggle('busy', busy);
}
const allPieces = () => /** @type {HTMLInputElement} */ ($('all-pieces')).checked;
/** What can be asked for now. */
function enable() {
  const at = (/** @type {string} */ id, /** @type {boolean} */ can) => (/** @type {HTMLButtonElement} */ ($(id)).disabled = !can);
  at('print-pattern', good && (forPaper > 0 || allPieces()));
  at('save-svg', good);
  at('save-cutlist', good);
  at('read-report', report !== undefined && !$('answer').classList.contains('old'));
  at('save-findings', report !== undefined && !$('answer').classList.contains('old'));
  at('set-aside', good);
  at('rate', good && scene.kind !== 'sheet');
}

// ---- from keystroke to answer ---------------------------------------------------------------------

const keeping = later(() => say($('kept'), keep({ scene, aside: versions.list })), PAUSE_KEEP);
const checking = later(check, PAUSE_CHECK);
const hangingSoon = later(() => {
  const text = textOf(scene);
  if (!good || lacks) return;
  hungText = text;
  hanging.hang(text, '', scene.kind !== 'sheet');
}, PAUSE_HANG);

/** @param {string} pointer */
function changed(pointer) {
  if (pointer === '/bag/upper_height') stack?.draw();
  if (pointer.startsWith('/layers')) stack?.refresh();
  $('answer').classList.add('old');
  report = undefined;
  rating.changed();
  typedAt = Date.now();
  hangingSoon.cancel();
  hanging.stop();
  state('', false);
  enable();
  checking.go();
  keeping.go();
}

async function check() {
  if (lacks) return;
  const number = ++checks, text = textOf(scene);
  try {
    const found = await reader.call('bench_check', [text, '']);
    if (number !== checks) return;
    good = found.good;
    tellFaults(found.diagnostics);
    if (found.pieces_svg) showSvg($('pieces'), found.pieces_svg, 'the pieces to cut, with seam allowances, to scale');
    if (found.pieces) showTable($('pieces-table'), found.pieces);
    if (found.for_paper) tellPaper(found.for_paper);
    if (found.front) showFront(found.front);
    $('flat').hidden = scene.kind === 'sheet';
    if (good) {
      say($('summary'), found.summary);
      /** @type {HTMLSelectElement} */ ($('units')).value = found.units;
      if (text !== hungText || $('answer').classList.contains('old')) hangingSoon.go(Math.max(0, typedAt + PAUSE_HANG - Date.now()));
    } else {
      state('Put right what is marked, and it hangs again.', false);
    }
    enable();
    if (good && scene.kind !== 'sheet' && $('view').className !== 'shown') await assemble(text);
  } catch (error) {
    if (number === checks) state(error instanceof Error ? error.message : String(error), false);
  }
}

/** The bag as it is put together, until it hangs. @param {string} text of the scene */
async function assemble(text) {
  const { model } = await reader.call('bench_assemble', [text, '']);
  if ($('view').className === 'shown' || text !== textOf(scene)) return;
  view.show(model, { coarse: true });
  $('view').className = 'assembled';
}

/** What needs paper, and what a ruler draws. @param {string[]} names of the pieces that need paper */
function tellPaper(names) {
  forPaper = names.length;
  say($('for-paper'), names.length === 0
    ? 'No paper pattern needed: a ruler draws every piece from the sizes above. Tick “All pieces on paper” to print them all the same.'
    : `On paper: ${names.join('; ')}. A ruler draws the rest from the sizes above.`);
}

/** @param {import('./front.js').Front} front */
function showFront(front) {
  showSvg($('front'), frontSvg(front), 'the finished front, flat, with its strap ends and stitches');
  if (front.strap) showSvg($('strap-end'), strapEndSvg(front.strap), `one strap end with ${front.strap.stitches_m.length} stitches`);
}

/** @param {import('./form.js').Diagnostic[]} diagnostics */
function tellFaults(diagnostics) {
  const homeless = form.tell(diagnostics);
  const list = $('faults');
  list.textContent = '';
  for (const one of homeless) {
    list.append(make('li', { class: one.severity }, `${one.pointer || 'the scene'}: ${one.message}${one.hint ? ` (${one.hint})` : ''}`));
  }
  const errors = diagnostics.filter(({ severity }) => severity === 'error').length, warnings = diagnostics.length - errors;
  const count = (/** @type {number} */ n, /** @type {string} */ what) => (n === 0 ? '' : `${n} ${what}${n === 1 ? '' : 's'}`);
  say($('fault-count'), [count(errors, 'thing to put right'), count(warnings, 'remark')].filter(Boolean).join(', '));
  for (const part of document.querySelectorAll('#form details.room')) {
    part.classList.toggle('has-fault', part.querySelector('.field.wrong') !== null);
  }
}

// ---- the bag on the bench -------------------------------------------------------------------------

/** @param {Scene} taken */
function putOnBench(taken) {
  scene = taken;
  hungText = '';
  $('view').className = '';
  form.scene = scene;
  form.resting.clear();
  drawForm();
  /** @type {HTMLInputElement} */ ($('name')).value = String(scene.name ?? '');
  /** @type {HTMLSelectElement} */ ($('units')).value = scene.units ?? 'cm';
  document.body.classList.add('has-bag');
  $('starts').hidden = true;
  $('bench').hidden = false;
  changed('');
}

function drawForm() {
  const box = $('form');
  box.textContent = '';
  form.fields = [];
  stack = undefined;
  const parts = [...(scene.kind === 'sheet' ? SHEET_PARTS : PARTS), ...MORE];
  for (const { path, title, open } of parts) {
    const room = make('details', { class: 'room', open, 'data-part': path }, make('summary', {}, title));
    const key = library.keys.find((/** @type {any} */ one) => one.key === path);
    if (path === 'layers') {
      const stackBox = make('div');
      room.append(stackBox);
      box.append(room);
      stack = new Stack(stackBox, form, (text) => say($('told-move'), text));
      stack.draw();
      continue;
    }
    if (key.type === 'list of objects') form.addList(room, key, `/${path}`);
    else form.addObject(room, path, `/${path}`);
    if (path === 'contents') room.append(make('p', { class: 'caution' }, 'A load named here is a load to compute with, not one to trust the bag with. What it may carry is a rating, with its cautions, further down; try the finished bag low above the floor first.'));
    box.append(room);
  }
  const rest = make('details', { class: 'room' }, make('summary', {}, 'Notes, own materials, expectations'));
  const known = [...parts.map(({ path }) => path), ...BESIDE_PARTS, ...PARTS.map(({ path }) => path), ...SHEET_PARTS.map(({ path }) => path)];
  for (const key of below(library.keys, '')) {
    if (known.includes(key.key) || key.key === 'swatch') continue;
    rest.append(form.field(key, key.type === 'text' ? 'text' : 'raw', `/${lastOf(key.key)}`));
  }
  box.append(rest);
  form.refresh();
}

/** @param {string} text @param {string} from */
async function openText(text, from) {
  await ready;
  try {
    const read = treeOf(text);
    if (read === null || typeof read !== 'object' || Array.isArray(read)) throw new Error('a scene is an object in braces');
    putOnBench(read);
    say($('open-fault'), '');
  } catch (error) {
    say($('open-fault'), `${from} is no scene file: ${error instanceof Error ? error.message : error}. Nothing was changed.`);
  }
}

function offerStarts() {
  const list = $('start-list');
  for (const { name, text, words: told } of STARTS) {
    const start = JSON.parse(text), picture = make('span', { class: 'picture', 'aria-hidden': 'true' });
    picture.innerHTML = bagPicture(start);
    list.append(make('li', {}, make('button', { type: 'button', class: 'start', onclick: () => openText(text, name) },
      picture, make('strong', {}, name), make('span', {}, told))));
  }
  const picture = make('span', { class: 'picture', 'aria-hidden': 'true' });
  picture.innerHTML = bagPicture(JSON.parse(LESSON[0])).repeat(3);
  list.append(make('li', {}, make('button', { type: 'button', class: 'start', onclick: startLesson },
    picture, make('strong', {}, 'The lesson'), make('span', {}, 'Three bags side by side: why a bottom needs a stiffener.'))));
  const examples = $('examples');
  for (const [name, text] of EXAMPLES) {
    examples.append(make('li', {}, make('button', { type: 'button', class: 'quiet', onclick: () => openText(text, name) }, name)));
  }
}

/** The three bags set aside, the last on the bench, and compared. */
async function startLesson() {
  await ready;
  const bags = LESSON.map((text) => JSON.parse(text));
  for (const bag of bags) delete bag.variants;
  versions.list = versions.list.filter(({ name }) => !bags.some((bag) => bag.name === name));
  for (const bag of bags) versions.setAside(bag, '');
  putOnBench(copyOf(bags[2]));
  versions.compare();
  comeTo($('aside-title'));
}

// ---- buttons --------------------------------------------------------------------------------------

async function pattern() {
  return reader.call('bench_pattern', [textOf(scene), '', /** @type {HTMLSelectElement} */ ($('paper')).value, allPieces() ? 1 : 0]);
}
/** @param {string} id @param {() => void | Promise<void>} work */
function button(id, work) {
  $(id).onclick = async () => {
    try {
      await work();
    } catch (error) {
      state(error instanceof Error ? error.message : String(error), false);
    }
  };
}

function listen() {
  const name = /** @type {HTMLInputElement} */ ($('name')), units = /** @type {HTMLSelectElement} */ ($('units'));
  name.oninput = () => {
    set(scene, '/name', name.value === '' ? undefined : name.value);
    changed('/name');
  };
  units.onchange = () => {
    set(scene, '/units', units.value);
    stack?.refresh();
    changed('/units');
  };
  const file = /** @type {HTMLInputElement} */ ($('open-file'));
  file.onchange = async () => {
    const [one] = file.files ?? [];
    if (one) await openText(await one.text(), one.name);
    file.value = '';
  };
  button('stop', () => {
    hanging.stop();
    const shown = !$('answer').classList.contains('old');
    if (answer && shown) showAnswer(answer, answer.coarse ? 'coarse mesh' : 'finest mesh', true);
    state(answer && shown ? 'Stopped: what is shown is what was known by then.' : 'Stopped.', false);
  });
  button('hang-again', () => {
    hungText = '';
    $('answer').classList.add('old');
    checking.go();
  });
  button('new-bag', () => {
    $('starts').hidden = false;
    $('starts').scrollIntoView({ block: 'start' });
    /** @type {HTMLElement | null} */ ($('starts').querySelector('button.start'))?.focus();
  });
  $('all-pieces').onchange = enable;
  button('look-pieces', () => showPage(`Pieces: ${scene.name ?? 'the bag'}`,
    `<!DOCTYPE html><html lang="en"><title>The pieces to cut</title><body>${$('pieces').innerHTML}`, `${fileName(scene)}-pieces.html`));
  button('print-pattern', async () => printPattern(await pattern()));
  button('save-svg', async () => download(`${fileName(scene)}-cutlist.svg`, (await pattern()).svg, 'image/svg+xml'));
  button('save-cutlist', async () => download(`${fileName(scene)}-cutlist.json`, (await pattern()).json));
  button('save-scene', () => download(`${fileName(scene)}.json`, textOf(scene)));
  button('save-findings', () => download(`${fileName(scene)}-findings.json`, report?.findings ?? ''));
  button('read-report', () => showPage(`Report: ${scene.name ?? 'the bag'}`, report?.html ?? '', `${fileName(scene)}-report.html`));
  button('set-aside', () => {
    const current = answer && !$('answer').classList.contains('old') ? inShort(answer) : '';
    const kept = versions.setAside(scene, current);
    say($('compare-state'), `${kept} is set aside. Change one thing, then compare.`);
  });
  window.addEventListener('pagehide', () => document.body.classList.contains('has-bag') && keep({ scene, aside: versions.list }));
}

async function start() {
  listen();
  offerStarts();
  versions.draw();
  enable();
  if (lacks) {
    say($('alarm'), lacks);
    $('alarm').hidden = false;
  }
  await painted(); // the bags to begin with, before what takes its time
  view = new BagView($('view'));
  const kept = recall();
  try {
    library = lacks ? { keys: [], materials: [], threads: [], stitches: [] } : await reader.open();
  } catch (error) {
    say($('alarm'), `The solver could not be started: ${error instanceof Error ? error.message : error}`);
    $('alarm').hidden = false;
    return;
  }
  form = new Form(library, changed);
  document.body.classList.add('ready');
  if (kept) {
    versions.list = kept.aside;
    versions.draw();
    putOnBench(kept.scene);
    say($('kept'), 'This is the bag you left here last time.');
  }
  isReady();
  hanging.bench.open().catch(() => {}); // warm by the time it is needed; what fails then is told
}

// The parts that the page carries stand below this script.
if (document.readyState === 'loading') document.addEventListener('DOMContentLoaded', start);
else start();
