// The form beside the 3-D view and the words below it: what can be chosen, and what is read.

import { measured, number } from './measured.js';

const $ = (id) => document.getElementById(id);

function fill(list, texts, chosen, first = 0) {
  list.textContent = '';
  texts.forEach((text, i) => list.add(new Option(text, i + first, false, i + first === chosen)));
}

// Words that are read aloud when they change; nothing is said twice.
function say(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

// `act` has what a choice brings about: chooseBag, chooseField, chooseLoad (share), chooseCut (kind,
// share), chooseStitch (-1 is none), look (name).
export function listen(names, act) {
  fill($('choose-bag'), names, 0);
  $('choose-bag').closest('label').hidden = names.length < 2;
  // Forms keep what was chosen when a page is loaded again; start from what is drawn.
  $('choose-load').value = 100;
  $('choose-cut').value = 'none';
  $('choose-bag').addEventListener('change', (event) => act.chooseBag(Number(event.target.value)));
  $('choose-field').addEventListener('change', (event) => act.chooseField(Number(event.target.value)));
  $('choose-load').addEventListener('input', (event) => act.chooseLoad(Number(event.target.value) / 100));
  $('choose-stitch').addEventListener('change', (event) => act.chooseStitch(Number(event.target.value)));
  const cut = () => {
    const kind = $('choose-cut').value;
    $('choose-cut-at').disabled = kind === 'none';
    act.chooseCut(kind, Number($('choose-cut-at').value) / 100);
  };
  $('choose-cut').addEventListener('change', cut);
  $('choose-cut-at').addEventListener('input', cut);
  for (const button of document.querySelectorAll('[data-look]')) {
    button.addEventListener('click', () => act.look(button.dataset.look));
  }
}

export function tellNo3d(why) {
  $('view-box').classList.add('no-3d');
  $('view-status').textContent = why;
}

export function offerFields(bag, chosen) {
  fill($('choose-field'), bag.fields.map((field) => field.name), chosen);
  $('choose-field').closest('label').hidden = bag.fields.length === 0;
}

export function offerStitches(bag) {
  fill($('choose-stitch'), ['none', ...bag.stitches.map((s) => `${s.site}, ${s.number}`)], -1, -1);
  $('choose-stitch').closest('label').hidden = bag.stitches.length === 0;
}

export function tellField(bag, chosen) {
  const field = bag.fields[chosen];
  $('view-bar').hidden = !field;
  if (!field) return;
  const stops = bag.colours.map((c) => `rgb(${c.map((v) => Math.round(255 * v)).join(',')})`).join(',');
  $('view-bar-strip').style.background = `linear-gradient(to right, ${stops})`;
  $('view-bar-low').textContent = number(field.low);
  $('view-bar-mid').textContent = number(0.5 * (field.low + field.high));
  $('view-bar-high').textContent = number(field.high) + (field.more ? ' and more' : '');
  $('view-bar-title').textContent = `${field.name}, ${field.unit}, ${field.at}`;
}

export function tellStitch(bag, chosen) {
  $('choose-stitch').value = String(chosen);
  const s = bag.stitches[chosen];
  if (!s) {
    say($('view-stitch'), bag.stitches.length ? 'Click a stitch, or choose one, to read its force at full load.' : '');
    return;
  }
  const force = (force_N) => measured(force_N * bag.force.per_SI, bag.force.unit);
  say($('view-stitch'),
    `Stitch ${s.number} of ${s.site}: ${force(s.total_N)} at full load; along the strap ${force(s.along_N)}, ` +
    `across it ${force(s.across_N)}, lifting it off ${force(s.peel_N)}.`);
}

export function tellLoadAndAngle(bag, load, readings, seenFrom) {
  const percent = `${Math.round(100 * load)} %`;
  const list = readings.map((r) => `${r.name} ${measured(r.value, r.unit)}`).join(', ');
  say($('view-angle'), seenFrom);
  say($('view-load'), `${percent} of the load` + (list ? `: ${list}` : ''));
  $('view').setAttribute('aria-label', `${bag.name} in 3-D, ${percent} loaded, ${seenFrom}`);
}
