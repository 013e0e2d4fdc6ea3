// @ts-check
// What the bag may carry: a rating, which takes minutes, beside everything else; with its cautions,
// never without. In one worker: most of its time the typical bag is followed to its failure, load by
// load, and that cannot be shared out.
import { Bench, Stopped } from './bench.js';
import { $, make, say } from './dom.js';
import { download, showPage } from './paper.js';
import { copyOf, fileName, textOf } from './scene.js';

const SAMPLES_HERE = 20;
const AS_LONG = [8, 30]; // times a hang of the same bag: lesson-3-base and demo, one processor

/** "2 to 5 minutes" @param {number} seconds of a hang */
function ratingTime(seconds) {
  const [least, most] = AS_LONG.map((times) => Math.max(1, Math.round((times * seconds) / 60)));
  return most === 1 ? 'about a minute' : least === most ? `about ${most} minutes` : `${least} to ${most} minutes`;
}

export class Rating {
  /** @param {{ scene: () => import('./scene.js').Scene }} page */
  constructor(page) {
    this.page = page;
    this.bench = new Bench();
    this.rated = { changed: false };
    $('rate').onclick = () => this.rate();
    $('rate-stop').onclick = () => this.bench.stop();
    $('rate-command').onclick = () => {
      const scene = this.page.scene();
      download(`${fileName(scene)}.json`, textOf(scene));
    };
  }

  /** How long a hang took tells how long a rating may. @param {number} seconds */
  knows(seconds) {
    say($('rate-time'), `Rating this bag takes ${ratingTime(seconds)} here: the load is raised until something gives, and again for each of ${SAMPLES_HERE} sampled bags. It goes on beside your work, and can be stopped.`);
    say($('rate-line'), `totebench rate ${fileName(this.page.scene())}.json`);
  }
  /** The bag is another than the one rated, or that is being rated. */
  changed() {
    say($('rate-time'), '');
    this.rated.changed = true;
    this.tellWhich();
  }
  tellWhich() {
    $('rated').classList.toggle('old', this.rated.changed);
    say($('rate-which'), this.rated.changed && !$('rated').hidden ? 'You have changed the bag since: this is the rating of the bag as it was.' : '');
  }

  async rate() {
    const scene = copyOf(this.page.scene());
    if (this.bench.busy) this.bench.stop();
    this.rated = { changed: false };
    $('rate-stop').hidden = false;
    $('rated').hidden = true;
    this.tellWhich();
    const begin = Date.now();
    try {
      const found = await this.bench.call('bench_rate', [textOf(scene), '', SAMPLES_HERE], ({ stage }) => {
        say($('rate-state'), `${Math.round((Date.now() - begin) / 1000)} s: ${stage}`);
      });
      say($('rate-state'), found.rated ? '' : 'No rating can be given; why stands below.');
      $('rated').hidden = false;
      say($('rate-sentence'), found.sentence);
      $('rate-cautions').replaceChildren(...found.cautions.map((/** @type {string} */ text) => make('li', {}, text)));
      $('rate-told').textContent = found.told;
      this.tellWhich();
      $('rate-report').onclick = () => showPage(`Rating: ${scene.name ?? 'the bag'}`, found.html, `${fileName(scene)}-rating.html`);
    } catch (error) {
      say($('rate-state'), error instanceof Stopped ? 'Stopped.' : error instanceof Error ? error.message : String(error));
    }
    $('rate-stop').hidden = true;
  }
}
