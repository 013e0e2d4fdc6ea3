// @ts-check
// The answer: a sentence, three numbers with their ranges, what they hang on.
import { $, make, say, showTable } from './dom.js';

/** What bench_hang and bench_refine tell.
 * @typedef {{ at_rest: boolean, stopped: boolean, coarse: boolean, sentence: string, told: string, alarm: string,
 *   headlines: Headline[], known: string[], moved_most: string, moved_by: string[][], cautions: string[], seconds: number, findings: any, model: any }} Answer */
/** @typedef {{ key: string, name: string, meaning: string, found: string, likely: string, hangs_on: string, mesh: string }} Headline */

// By keys of the findings; the titles are ours.
const THREE = [
  { key: 'bottom_sag_m', title: 'Bottom sag' },
  { key: 'strap_drop_loaded_m', title: 'Strap drop, loaded' },
  { key: 'peak_stitch_N', title: 'Hardest pulled stitch' },
];

/** @param {Answer} answer @param {string} mesh "coarse mesh" where more is to come @param {boolean} [stopped] no more is to come */
export function showAnswer(answer, mesh, stopped = false) {
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
        make('strong', {}, line?.found || '–'),
        make('span', { class: 'range' }, rangeOf(answer, line, mesh, stopped)),
        line?.hangs_on ? make('span', { class: 'hint' }, `hangs mostly on: ${line.hangs_on}`) : undefined)));
  }
  const known = $('known');
  known.textContent = '';
  for (const text of answer.known) known.append(make('p', {}, text));
  $('moved').hidden = answer.moved_by.length === 0;
  say($('moved-most'), answer.moved_most);
  if (answer.moved_by.length > 0) showTable($('moved-by'), answer.moved_by);
  showTable($('all-numbers'), [['', 'found', 'likely range', 'coarser mesh'],
    ...answer.headlines.filter(({ found }) => found).map((line) => [line.name, line.found, line.likely, line.mesh])]);
  const cautions = $('cautions');
  cautions.textContent = '';
  for (const text of answer.cautions) cautions.append(make('li', {}, text));
  $('told').textContent = answer.told;
}

/** @param {Answer} answer @param {Headline | undefined} line @param {string} mesh @param {boolean} stopped */
function rangeOf(answer, line, mesh, stopped) {
  if (!line) return 'no answer';
  if (line.found) return line.likely ? `likely ${line.likely}` : mesh;
  if (!answer.coarse) return 'there is none';
  return stopped ? 'only the finest mesh tells it' : 'comes with the finest mesh';
}

/** The three numbers in a few words, for a bag that is set aside. @param {Answer} answer */
export function inShort(answer) {
  return THREE.map(({ key, title }) => {
    const line = answer.headlines.find((one) => one.key === key);
    return line?.found ? `${title.toLowerCase()} ${line.found}` : '';
  }).filter(Boolean).join(', ');
}
