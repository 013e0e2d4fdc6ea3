// @ts-check
// The answer: a sentence, three numbers with their ranges, what they hang on.
import { $, make, say } from './dom.js';

/** What bench_hang and bench_refine tell.
 * @typedef {{ at_rest: boolean, stopped: boolean, sentence: string, told: string, alarm: string,
 *   headlines: Headline[], known: string[], cautions: string[], seconds: number, findings: any, model: any }} Answer */
/** @typedef {{ key: string, name: string, meaning: string, found: string, likely: string, hangs_on: string, mesh: string }} Headline */

// By keys of the findings; the titles are ours.
const THREE = [
  { key: 'bottom_sag_m', title: 'Bottom sag' },
  { key: 'strap_drop_loaded_m', title: 'Strap drop, loaded' },
  { key: 'peak_stitch_N', title: 'Hardest pulled stitch' },
];

/** @param {Answer} answer @param {string} mesh "coarse mesh" where more is to come */
export function showAnswer(answer, mesh) {
  say($('sentence'), answer.sentence);
  say($('alarm'), answer.alarm);
  $('alarm').hidden = answer.alarm === '';
  const numbers = $('numbers');
  numbers.textContent = '';
  for (const { key, title } of THREE) {
    const line = answer.headlines.find((one) => one.key === key);
    numbers.append(make('div', { class: 'number', 'data-figure': key },
      make('dt', { title: line?.meaning }, title),
      make('dd', {},
        make('strong', {}, line ? line.found : '–'),
        make('span', { class: 'range' }, line?.likely ? `likely ${line.likely}` : line ? mesh : 'no answer'),
        line?.hangs_on ? make('span', { class: 'hint' }, `hangs mostly on: ${line.hangs_on}`) : undefined)));
  }
  const known = $('known');
  known.textContent = '';
  for (const text of answer.known) known.append(make('p', {}, text));
  const rest = make('tbody');
  for (const line of answer.headlines) {
    rest.append(make('tr', {}, make('th', { scope: 'row' }, line.name), make('td', {}, line.found), make('td', {}, line.likely || ' '), make('td', {}, line.mesh || ' ')));
  }
  $('all-numbers').replaceChildren(
    make('thead', {}, make('tr', {}, ...['', 'found', 'likely range', 'coarser mesh'].map((text) => make('th', { scope: 'col' }, text)))), rest);
  const cautions = $('cautions');
  cautions.textContent = '';
  for (const text of answer.cautions) cautions.append(make('li', {}, text));
  $('told').textContent = answer.told;
}

/** The three numbers in a few words, for a bag that is set aside. @param {Answer} answer */
export function inShort(answer) {
  return THREE.map(({ key, title }) => {
    const line = answer.headlines.find((one) => one.key === key);
    return line ? `${title.toLowerCase()} ${line.found}` : '';
  }).filter(Boolean).join(', ');
}
