// @ts-check
// What the bag may carry: a rating, which takes minutes, beside everything else; with its cautions,
// never without.
import { Bench, Stopped } from './bench.js';
import { $, say } from './dom.js';
import { download, showPage } from './paper.js';
import { fileName, textOf } from './scene.js';

const SAMPLES_HERE = 20;

export class Rating {
  /** @param {{ scene: () => import('./scene.js').Scene }} page */
  constructor(page) {
    this.page = page;
    this.bench = new Bench();
    $('rate').onclick = () => this.rate();
    $('rate-stop').onclick = () => this.bench.stop();
    $('rate-command').onclick = () => {
      const scene = this.page.scene();
      download(`${fileName(scene)}.json`, textOf(scene));
    };
  }

  /** How long a hang took tells how long a rating may. @param {number} seconds */
  knows(seconds) {
    say($('rate-time'), `A rating raises the load until something gives, and again for each of ${SAMPLES_HERE} sampled bags: some dozens of hangs, and hanging this bag took ${Math.max(1, Math.round(seconds))} s. It goes on beside your work, and can be stopped. The program draws 200 bags and looks for changes that raise the rating: totebench rate ${fileName(this.page.scene())}.json`);
  }

  async rate() {
    const scene = this.page.scene();
    if (this.bench.busy) this.bench.stop();
    $('rate-stop').hidden = false;
    $('rate-told').hidden = true;
    const begin = Date.now();
    try {
      const found = await this.bench.call('bench_rate', [textOf(scene), '', SAMPLES_HERE], ({ stage }) => {
        say($('rate-state'), `${Math.round((Date.now() - begin) / 1000)} s: ${stage}`);
      });
      say($('rate-state'), found.rated ? '' : 'No rating can be given; why stands below.');
      $('rate-told').textContent = found.told;
      $('rate-told').hidden = false;
      $('rate-report').hidden = false;
      $('rate-report').onclick = () => showPage(`Rating: ${scene.name ?? 'the bag'}`, found.html, `${fileName(scene)}-rating.html`);
    } catch (error) {
      say($('rate-state'), error instanceof Stopped ? 'Stopped.' : error instanceof Error ? error.message : String(error));
    }
    $('rate-stop').hidden = true;
  }
}
