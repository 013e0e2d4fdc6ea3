// @ts-check
// Hangs the bag on the bench, coarse at first, then sharper and sharper, each step shown; whatever
// is asked for later ends what runs.
import { Bench, Stopped } from './bench.js';

/** @typedef {import('./answer.js').Answer} Answer */
/** What happens on the way. `answer` may come several times, `last` with its last.
 * @typedef {{ onHung: (seconds: number) => void, onStage: (words: string, hint?: string) => void, onAnswer: (answer: Answer, sharpness: string, report?: Report) => void,
 *   onEnd: (words: string) => void, onFault: (sentence: string) => void }} Told */
/** @typedef {{ html: string, findings: string, resolved: string }} Report */

const SHARPER = [
  { what: 'mesh', words: 'What the mesh leaves open' },
  { what: 'stitches', words: 'Range of the stitch force' },
  { what: 'materials', words: 'Ranges from the scatter of the materials' },
  { what: 'circumstances', words: 'What would move it most, beside the materials' },
];

export class Hanging {
  /** @param {Told} told */
  constructor(told) {
    this.told = told;
    this.bench = new Bench();
    this.turn = 0; // of the last wish
    this.running = false;
  }

  /** @param {string} scene text of a good scene @param {string} units @param {boolean} tote */
  async hang(scene, units, tote) {
    this.stop();
    const turn = ++this.turn;
    this.running = true;
    const going = () => turn === this.turn;
    const watch = (/** @type {string} */ words) => (/** @type {import('./bench.js').Progress} */ at) => {
      if (going()) this.told.onStage(words, at.stage);
    };
    const step = async (/** @type {string} */ words, /** @type {string} */ name, /** @type {(string | number)[]} */ args) => {
      this.told.onStage(words);
      const answer = await this.bench.call(name, args, watch(words));
      return going() ? answer : Promise.reject(new Stopped());
    };
    try {
      let answer = await step('Hanging it on a coarse mesh', 'bench_hang', [scene, units, 1]);
      this.told.onAnswer(answer, 'coarse mesh, sharper soon');
      if (!answer.at_rest) {
        this.told.onAnswer(answer, '', await this.bench.call('bench_report', []));
        this.told.onEnd('No rest was found on the coarse mesh, from which finer ones begin: what is shown is no answer.');
        return;
      }
      if (!tote) {
        this.told.onAnswer(answer, '', await this.bench.call('bench_report', []));
        this.told.onEnd('Done.');
        return;
      }
      answer = await step('Sharper: finer meshes, and other starts', 'bench_hang', [scene, units, 0]);
      this.told.onHung(answer.seconds);
      this.told.onAnswer(answer, 'finest mesh, range to come', await this.bench.call('bench_report', []));
      if (!answer.at_rest) {
        this.told.onEnd('No rest was found on the finest mesh: what is shown is no answer.');
        return;
      }
      for (const { what, words } of SHARPER) {
        answer = await step(words, 'bench_refine', [what]);
        this.told.onAnswer(answer, 'finest mesh', await this.bench.call('bench_report', []));
      }
      if (going()) this.told.onEnd('Done: finest mesh, with ranges.');
    } catch (error) {
      if (error instanceof Stopped || !going()) return;
      this.told.onFault(error instanceof Error ? error.message : String(error));
    } finally {
      if (going()) this.running = false;
    }
  }
  /** Ends what runs; what was shown stays. */
  stop() {
    if (!this.running) return;
    this.running = false;
    ++this.turn;
    this.bench.stop();
    this.bench.open().catch(() => {}); // warm for what comes next, which tells what fails
  }
}
