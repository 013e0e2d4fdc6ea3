// @ts-check
// One bench in a worker: makes an instance of the module, opens the library, and calls functions of
// bench/bench.hpp as it is told. emscripten's makeBench() stands above this in the worker's source.

/** @typedef {{
 *   HEAPU8: Uint8Array, UTF8ToString(at: number): string, lengthBytesUTF8(text: string): number,
 *   stringToUTF8(text: string, at: number, room: number): void, _malloc(size: number): number,
 *   _free(at: number): void, [name: string]: any }} Instance */

/** @type {(options: object) => Promise<Instance>} */
// @ts-ignore: of emscripten's script
const make = self.makeBench;

/** @type {Promise<Instance> | undefined} */
let instance;
let current = 0; // the call being worked on

/** @param {WebAssembly.Module} module */
function start(module) {
  return make({
    /**
     * @param {WebAssembly.Imports} imports
     * @param {(instance: WebAssembly.Instance, module: WebAssembly.Module) => void} receive
     */
    instantiateWasm(imports, receive) {
      WebAssembly.instantiate(module, imports).then((made) => receive(made, module));
      return {};
    },
    /** @param {string} stage @param {number} load @param {number} residual */
    onProgress(stage, load, residual) {
      postMessage({ id: current, progress: { stage, load, residual } });
      return 1;
    },
    print() {},
    printErr() {},
  });
}

/** Texts as pointers, numbers as they are. @param {Instance} bench @param {string} name @param {(string | number)[]} args */
function call(bench, name, args) {
  /** @type {number[]} */
  const owned = [];
  const given = args.map((arg) => {
    if (typeof arg === 'number') return arg;
    const size = bench.lengthBytesUTF8(arg) + 1, at = bench._malloc(size);
    if (at === 0) throw new Error('out of memory');
    bench.stringToUTF8(arg, at, size);
    owned.push(at);
    return at;
  });
  const text = bench.UTF8ToString(bench[`_${name}`](...given));
  owned.forEach((at) => bench._free(at));
  return text;
}

self.onmessage = async ({ data }) => {
  if (data.module) {
    instance = start(data.module);
    return;
  }
  try {
    const bench = await /** @type {Promise<Instance>} */ (instance);
    current = data.id;
    postMessage({ id: data.id, text: call(bench, data.name, data.args) });
  } catch (error) {
    // A trap: memory that ran out, or a defect. The instance is of no more use.
    postMessage({ id: data.id, broken: String(error) });
  }
};
