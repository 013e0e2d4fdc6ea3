// @ts-check
// The solver's side of the page: the module that the page carries, and workers that run it.

/** @typedef {{ stage: string, load: number, residual: number }} Progress */

const OUT_OF_MEMORY =
  'This needed more memory than the browser gives, and was given up. A coarser mesh (under “How it is solved”) needs less.';

/** The text of a script element. @param {string} id */
const carried = (id) => /** @type {HTMLElement} */ (document.getElementById(id)).textContent ?? '';

/** Bytes of a base64 text, unpacked. @param {string} base64 */
async function unpacked(base64) {
  const text = atob(base64.trim()), bytes = new Uint8Array(text.length);
  for (let i = 0; i < text.length; ++i) bytes[i] = text.charCodeAt(i); // Uint8Array.from takes twenty times as long
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('gzip'));
  return new Response(stream).arrayBuffer();
}

/** What is missing in this browser, as a sentence; '' where all is there. */
export function missing() {
  // Smallest modules: (func (drop (v128.const 0))) and (tag).
  const simd = [0, 97, 115, 109, 1, 0, 0, 0, 1, 4, 1, 96, 0, 0, 3, 2, 1, 0, 10, 23, 1, 21, 0, 253, 12, ...Array(16).fill(0), 26, 11];
  const exceptions = [0, 97, 115, 109, 1, 0, 0, 0, 1, 4, 1, 96, 0, 0, 13, 3, 1, 0, 0];
  const lacks = [];
  if (typeof WebAssembly !== 'object') lacks.push('WebAssembly');
  else {
    if (!WebAssembly.validate(new Uint8Array(simd))) lacks.push('WebAssembly SIMD');
    if (!WebAssembly.validate(new Uint8Array(exceptions))) lacks.push('WebAssembly exceptions');
  }
  if (typeof Worker !== 'function') lacks.push('workers');
  if (typeof DecompressionStream !== 'function') lacks.push('unpacking of data');
  if (lacks.length === 0) return '';
  return `This browser lacks ${lacks.join(' and ')}, which hanging a bag needs. A newer Chromium, Firefox or Safari has it; your bag can still be opened, changed and saved here.`;
}

/** @type {Promise<WebAssembly.Module> | undefined} */
let compiled;
/** @type {string | undefined} */
let workerAddress;

/** One worker with one bench. A call that runs can only be ended with its worker. */
export class Bench {
  constructor() {
    /** @type {Worker | undefined} */
    this.worker = undefined;
    /** @type {Map<number, { done: (text: string) => void, failed: (why: Error) => void, onProgress?: (at: Progress) => void }>} */
    this.waiting = new Map();
    this.number = 0;
    /** @type {Promise<any> | undefined} */
    this.opened = undefined;
  }

  /** Starts the worker where there is none. Resolves to what bench_open tells. */
  open() {
    this.opened ??= this.start();
    return this.opened;
  }
  async start() {
    compiled ??= unpacked(carried('module')).then((bytes) => WebAssembly.compile(bytes));
    workerAddress ??= URL.createObjectURL(new Blob([carried('worker')], { type: 'text/javascript' }));
    const worker = new Worker(workerAddress);
    this.worker = worker;
    worker.onmessage = ({ data }) => this.hear(data);
    worker.onerror = (event) => this.giveUp(new Error(event.message || 'the worker ended'));
    worker.postMessage({ module: await compiled });
    return this.ask('bench_open', [carried('library')]);
  }
  /** @param {any} said */
  hear(said) {
    const call = this.waiting.get(said.id);
    if (!call) return;
    if (said.progress) {
      call.onProgress?.(said.progress);
      return;
    }
    if (said.broken) {
      const memory = /memory|RangeError/i.test(said.broken);
      this.giveUp(new Error(memory ? OUT_OF_MEMORY : `The solver broke off, which is a defect of totebench: ${said.broken}`));
      return;
    }
    this.waiting.delete(said.id);
    call.done(said.text);
  }
  /** @param {string} name @param {(string | number)[]} args @param {(at: Progress) => void} [onProgress] @returns {Promise<any>} */
  async ask(name, args, onProgress) {
    const id = ++this.number;
    const text = await new Promise((done, failed) => {
      this.waiting.set(id, { done, failed, onProgress });
      this.worker?.postMessage({ id, name, args });
    });
    const answer = JSON.parse(text);
    if (answer.error) throw new Error(answer.error);
    return answer;
  }
  /** Calls a function of the bench. Rejects with a sentence, or with a Stopped.
   * @param {string} name @param {(string | number)[]} args @param {(at: Progress) => void} [onProgress] */
  async call(name, args, onProgress) {
    await this.open();
    return this.ask(name, args, onProgress);
  }
  get busy() {
    return this.waiting.size > 0;
  }
  /** Ends whatever runs; the next call has a fresh bench. */
  stop() {
    this.giveUp(new Stopped());
  }
  /** @param {Error} why */
  giveUp(why) {
    this.worker?.terminate();
    this.worker = undefined;
    this.opened = undefined;
    const calls = [...this.waiting.values()];
    this.waiting.clear();
    for (const call of calls) call.failed(why);
  }
}

/** Not a fault: somebody wanted something else. */
export class Stopped extends Error {}
