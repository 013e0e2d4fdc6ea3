// @ts-check
// The scene as a form, made from the tables of its keys as `explain --json` tells them. Every key
// has its field; what a check says of a key stands at its field.
import { freshId, make, say } from './dom.js';
import { get, set, whenOf } from './scene.js';
import { pictureOf } from './pictures.js';

/** @typedef {import('./scene.js').Scene} Scene */
/** One key, as `explain --json` has it.
 * @typedef {{ key: string, type: string, unit: string, presence: string, default: string, source: string,
 *   usual: string, possible: string, meaning: string, choices?: string[], choice_meanings?: string[],
 *   only_when?: string }} Key */
/** What the page draws on: the keys, and names of the library.
 * @typedef {{ keys: Key[], materials: Material[], threads: Named[], stitches: Named[] }} Library */
/** @typedef {{ id: string, name: string }} Named */
/** @typedef {Named & { category: string, thickness_m?: number, areal_mass_kg_per_m2?: number, grade?: string }} Material */
/** @typedef {{ severity: string, pointer: string, message: string, hint: string }} Diagnostic */
/** @typedef {{ pointer: string, key: Key, element: HTMLElement, control: HTMLElement, fault: HTMLElement,
 *   refresh: () => void }} Field */

export const words = (/** @type {string} */ name) => name.replace(/_/g, ' ');
export const lastOf = (/** @type {string} */ key) => key.slice(key.lastIndexOf('.') + 1);

/** Keys right below an object: "straps" has straps.width but not straps.attachment.rows.
 * @param {Key[]} keys @param {string} path */
export function below(keys, path) {
  const stem = path === '' ? '' : `${path}.`;
  return keys.filter(({ key }) => key.startsWith(stem) && key.length > stem.length && !key.slice(stem.length).includes('.'));
}

/** How a key is asked for. @param {Key} key */
export function kindOf(key) {
  if (key.choices) return 'choice';
  if (/^\[x, y, z\]/.test(key.type)) return 'vector';
  if (/with its unit/.test(key.type)) return 'quantity';
  switch (key.type) {
    case 'plain number':
    case 'whole number': return 'number';
    case 'true or false': return 'yes or no';
    case 'material id': return 'material';
    case 'thread id': return 'thread';
    case 'ISO 4915 number as text': return 'stitch';
    case 'object': return 'object';
    case 'list of objects': return 'list';
    case 'text':
    case 'letters out of "xyz"': return 'text';
    default: return 'raw';
  }
}

/** What a field shows while it is empty. @param {Key} key */
export function emptyText(key) {
  if (key.presence === 'required') return key.usual ? `usually ${key.usual}` : '';
  return key.default;
}

/** A typed number as a number; what is none stays as typed, and the check tells so. @param {string} text */
export function numberOf(text) {
  const typed = text.trim();
  if (typed === '') return undefined;
  const value = Number(typed);
  return Number.isFinite(value) ? value : typed;
}

/** What else there is to say of a field: what it stands for while it is empty, what is usual. @param {Key} key */
export function moreOf(key) {
  const parts = [];
  if (key.presence === 'default' && key.default && !key.default.startsWith('{')) {
    parts.push(`Left empty: ${key.default}${key.source ? ` (${key.source})` : ''}.`);
  } else if (key.presence === 'derived' || key.presence === 'optional') {
    parts.push(`Left empty: ${key.default}.`);
  }
  if (key.usual) parts.push(`Usual: ${key.usual}.`);
  return parts.join(' ');
}

const ORDER = ['fabric', 'interfacing', 'stabilizer', 'base', 'strap'];
/** Which goods come first, by the part that asks. @param {string} key */
function firstGoods(key) {
  if (key.startsWith('straps')) return ['strap', 'fabric'];
  if (key.startsWith('base.')) return ['base', 'stabilizer'];
  return ['fabric', 'interfacing', 'stabilizer'];
}

export class Form {
  /** @param {Library} library @param {(pointer: string) => void} onChange after the scene was changed at a place */
  constructor(library, onChange) {
    this.library = library;
    this.onChange = onChange;
    /** @type {Scene} */
    this.scene = {};
    /** @type {Field[]} */
    this.fields = [];
    /** Values of keys that do not apply just now, to come back with their choice. @type {Map<string, any>} */
    this.resting = new Map();
  }

  /** The fields of an object, into `box`. @param {HTMLElement} box @param {string} path of the keys: "straps" @param {string} pointer of the object: "/straps" */
  addObject(box, path, pointer) {
    for (const key of below(this.library.keys, path)) this.addKey(box, key, `${pointer}/${lastOf(key.key)}`);
  }
  /** The same of an entry of a list: what may be left out is put away while it is.
   * @param {HTMLElement} box @param {string} path @param {string} pointer @param {string} name */
  addEntry(box, path, pointer, name) {
    const more = make('details', { class: 'more-of' }, make('summary', {}, `more of ${name}`));
    for (const key of below(this.library.keys, path)) {
      const at = `${pointer}/${lastOf(key.key)}`, optional = key.presence === 'optional';
      if (optional && get(this.scene, at) !== undefined) more.open = true;
      this.addKey(optional ? more : box, key, at);
    }
    if (more.childElementCount > 1) box.append(more);
  }

  /** @param {HTMLElement} box @param {Key} key @param {string} pointer */
  addKey(box, key, pointer) {
    const kind = kindOf(key);
    if (kind === 'object') {
      const part = make('fieldset', { class: 'part' }, make('legend', {}, words(lastOf(key.key))));
      this.addObject(part, key.key, pointer);
      box.append(part);
    } else if (kind === 'list') {
      this.addList(box, key, pointer);
    } else {
      box.append(this.field(key, kind, pointer));
    }
  }

  /** A list of objects, each with its fields. @param {HTMLElement} box @param {Key} key @param {string} pointer */
  addList(box, key, pointer) {
    const part = make('fieldset', { class: 'part' }, make('legend', {}, words(lastOf(key.key))), make('p', { class: 'hint' }, key.meaning));
    const entries = make('div'), one = words(lastOf(key.key)).replace(/s$/, '');
    const draw = () => {
      this.drop(pointer);
      entries.textContent = '';
      const list = get(this.scene, pointer);
      (Array.isArray(list) ? list : []).forEach((_, i) => {
        const name = `${one} ${i + 1}`;
        const entry = make('fieldset', { class: 'part entry' }, make('legend', {}, name));
        this.addEntry(entry, `${key.key}[]`, `${pointer}/${i}`, name);
        entry.append(make('button', {
          type: 'button', class: 'quiet', onclick: () => {
            set(this.scene, `${pointer}/${i}`, undefined);
            draw();
            this.changed(pointer);
          },
        }, `Take out ${name}`));
        entries.append(entry);
      });
      this.refresh();
    };
    part.append(entries, make('button', {
      type: 'button', onclick: () => {
        const list = get(this.scene, pointer);
        set(this.scene, pointer, [...(Array.isArray(list) ? list : []), {}]);
        draw();
        this.changed(pointer);
      },
    }, `Add ${/^[aeiou]/.test(one) ? 'an' : 'a'} ${one}`));
    box.append(part);
    draw();
  }

  /** @param {Key} key @param {string} kind @param {string} pointer @returns {HTMLElement} */
  field(key, kind, pointer) {
    const id = freshId('field'), hint = `${id}-hint`, fault = `${id}-fault`;
    const described = { id, 'aria-describedby': `${hint} ${fault}`, 'data-pointer': pointer };
    const faultBox = make('p', { class: 'fault', id: fault });
    const { control, show } = this.control(key, kind, pointer, described);
    const name = words(lastOf(key.key));
    const group = control.tagName === 'FIELDSET';
    const element = make('div', { class: `field ${kind.replace(/ /g, '-')}`, 'data-key': key.key },
      group ? undefined : make('label', { for: id }, name, key.presence === 'required' ? make('span', { class: 'must' }, ' must be given') : ''),
      control, make('p', { class: 'hint', id: hint, title: moreOf(key) }, key.meaning, ' ', make('span', { class: 'more' }, moreOf(key))), faultBox);
    if (group) control.prepend(make('legend', {}, name));
    this.fields.push({
      pointer, key, element, control, fault: faultBox,
      refresh: () => {
        const value = get(this.scene, pointer);
        show(value);
        element.hidden = value === undefined && !this.applies(key, pointer);
      },
    });
    return element;
  }

  /** Does a key mean anything beside the choice that it hangs on? @param {Key} key @param {string} pointer */
  applies(key, pointer) {
    const when = whenOf(key.only_when);
    if (!when) return true;
    const owner = pointer.slice(0, pointer.lastIndexOf('/'));
    const stem = key.key.slice(0, key.key.length - lastOf(key.key).length);
    const chooser = this.library.keys.find((other) => other.key === stem + when.key);
    return when.values.includes(get(this.scene, `${owner}/${when.key}`) ?? chooser?.default);
  }

  /** @param {Key} key @param {string} kind @param {string} pointer @param {Record<string, string>} described
   * @returns {{ control: any, show: (value: any) => void }} */
  control(key, kind, pointer, described) {
    const put = (/** @type {any} */ value) => {
      set(this.scene, pointer, value);
      this.changed(pointer);
    };
    const input = (/** @type {Record<string, any>} */ more, /** @type {(text: string) => any} */ read) => {
      const control = make('input', {
        type: 'text', autocomplete: 'off', spellcheck: 'false', placeholder: emptyText(key), ...described, ...more,
        oninput: () => put(read(control.value)),
      });
      return { control, show: (/** @type {any} */ value) => this.showText(control, value) };
    };
    const typed = (/** @type {string} */ text) => (text === '' ? undefined : text);
    switch (kind) {
      case 'quantity': return input({ inputmode: 'text', class: 'size' }, typed);
      case 'number': return input({ inputmode: 'decimal', class: 'size' }, numberOf);
      case 'text': return input(lastOf(key.key) === 'note' ? {} : { class: 'words' }, typed);
      case 'yes or no': {
        const control = make('input', { type: 'checkbox', ...described, onchange: () => put(control.checked) });
        return { control, show: (value) => (control.checked = value ?? key.default === 'true') };
      }
      case 'choice': return this.choice(key, pointer, described);
      case 'material': return this.select(described, put, key, this.materialGroups(key.key));
      case 'thread': return this.select(described, put, key, [['', this.library.threads]]);
      case 'stitch': return this.select(described, put, key, [['', this.library.stitches.map(({ id, name }) => ({ id, name: `${id} ${name}` }))]]);
      case 'vector': return this.vector(key, pointer, described);
      default: return this.raw(pointer, described, put);
    }
  }

  /** @param {any} control @param {any} value */
  showText(control, value) {
    const text = value === undefined ? '' : typeof value === 'string' ? value : JSON.stringify(value);
    // Not under her fingers: "1." would turn into "1".
    if (control !== document.activeElement || numberOf(control.value) !== value) {
      if (control.value !== text) control.value = text;
    }
  }

  /** @param {string} key @returns {[string, Named[]][]} */
  materialGroups(key) {
    const first = firstGoods(key), own = Object.keys(this.scene.materials ?? {});
    /** @type {[string, Named[]][]} */
    const groups = own.length > 0 ? [['of this bag', own.map((id) => ({ id, name: id }))]] : [];
    for (const category of [...first, ...ORDER.filter((name) => !first.includes(name))]) {
      groups.push([category, this.library.materials.filter((material) => material.category === category)]);
    }
    return groups;
  }

  /** @param {Record<string, string>} described @param {(value: any) => void} put @param {Key} key @param {[string, Named[]][]} groups */
  select(described, put, key, groups) {
    const empty = key.presence === 'required' || key.default === '' ? 'choose …' : `${key.default} (when left out)`;
    const control = make('select', { ...described, onchange: () => put(control.value === '' ? undefined : control.value) },
      make('option', { value: '' }, empty));
    for (const [label, list] of groups) {
      const options = list.map(({ id, name }) => make('option', { value: id }, name));
      if (label) control.append(make('optgroup', { label }, ...options));
      else control.append(...options);
    }
    return { control, show: (/** @type {any} */ value) => this.showOption(control, value) };
  }
  /** What the scene names and the list has not is shown all the same. @param {HTMLSelectElement} control @param {any} value */
  showOption(control, value) {
    const text = value === undefined ? '' : String(value);
    if (![...control.options].some((option) => option.value === text)) control.add(new Option(`${text} (not known)`, text));
    control.value = text;
  }

  /** A choice with pictures as radio buttons, another as a list. @param {Key} key @param {string} pointer @param {Record<string, string>} described */
  choice(key, pointer, described) {
    const choices = key.choices ?? [], meanings = key.choice_meanings ?? [];
    const choose = (/** @type {any} */ value) => {
      const owner = pointer.slice(0, pointer.lastIndexOf('/'));
      set(this.scene, pointer, value);
      this.rest(key, owner);
      this.changed(pointer);
    };
    if (!choices.some((choice) => pictureOf(key.key, choice))) {
      const control = make('select', { ...described, onchange: () => choose(control.value === '' ? undefined : control.value) });
      if (key.presence === 'required') control.append(make('option', { value: '' }, 'choose …'));
      else control.append(make('option', { value: '' }, `${key.default} (when left out)`));
      choices.forEach((choice, i) => control.append(make('option', { value: choice }, meanings[i] ? `${choice}: ${meanings[i]}` : choice)));
      return { control, show: (/** @type {any} */ value) => this.showOption(control, value) };
    }
    const { id, ...group } = described;
    const control = make('fieldset', { ...group, id, class: 'pictured' });
    // Pattern pieces have no picture: they are drawn in a file, and the page reads none.
    const radios = choices.flatMap((choice, i) => {
      if (!pictureOf(key.key, choice)) return [];
      const radio = make('input', { type: 'radio', name: id, value: choice, onchange: () => choose(choice) });
      const picture = make('span', { class: 'picture', 'aria-hidden': 'true' });
      picture.innerHTML = pictureOf(key.key, choice);
      control.append(make('label', { title: meanings[i] }, radio, picture, make('span', {}, choice)));
      return radio;
    });
    return {
      control,
      show: (/** @type {any} */ value) => radios.forEach((radio) => (radio.checked = radio.value === (value ?? key.default))),
    };
  }

  /** Puts aside the values that a new choice makes meaningless, and takes up those it gives meaning again.
   * @param {Key} chooser @param {string} owner pointer of the object */
  rest(chooser, owner) {
    const stem = chooser.key.slice(0, chooser.key.length - lastOf(chooser.key).length);
    for (const key of this.library.keys) {
      if (!key.only_when || !key.key.startsWith(stem) || key.key.slice(stem.length).includes('.')) continue;
      if (whenOf(key.only_when)?.key !== lastOf(chooser.key)) continue;
      const pointer = `${owner}/${lastOf(key.key)}`, value = get(this.scene, pointer);
      if (!this.applies(key, pointer) && value !== undefined) {
        this.resting.set(pointer, value);
        set(this.scene, pointer, undefined);
      } else if (this.applies(key, pointer) && value === undefined && this.resting.has(pointer)) {
        set(this.scene, pointer, this.resting.get(pointer));
      }
    }
  }

  /** @param {Key} key @param {string} pointer @param {Record<string, string>} described */
  vector(key, pointer, described) {
    const { id, ...group } = described;
    const control = make('fieldset', { ...group, id, class: 'vector' });
    const inputs = ['x', 'y', 'z'].map((axis) => {
      const one = make('input', {
        type: 'text', class: 'size', 'aria-label': `${words(lastOf(key.key))} ${axis}`, placeholder: axis, oninput: () => {
          const all = inputs.map(({ value }) => value);
          set(this.scene, pointer, all.every((text) => text === '') ? undefined : all);
          this.changed(pointer);
        },
      });
      control.append(one);
      return one;
    });
    return {
      control,
      show: (/** @type {any} */ value) => inputs.forEach((one, i) => this.showText(one, Array.isArray(value) ? value[i] : undefined)),
    };
  }

  /** What has no form of its own is written as in the file. @param {string} pointer @param {Record<string, string>} described @param {(value: any) => void} put */
  raw(pointer, described, put) {
    const control = make('textarea', {
      ...described, rows: 4, spellcheck: 'false', class: 'raw', placeholder: 'as in the scene file, in JSON',
      oninput: () => {
        const text = control.value.trim();
        try {
          const value = text === '' ? undefined : JSON.parse(text);
          control.setCustomValidity('');
          put(value);
        } catch (error) {
          control.setCustomValidity(`This is no JSON yet: ${error instanceof Error ? error.message : error}`);
          this.tellFault(pointer, control.validationMessage);
        }
      },
    });
    return {
      control,
      show: (/** @type {any} */ value) => {
        if (control !== document.activeElement) control.value = value === undefined ? '' : JSON.stringify(value, null, 2);
      },
    };
  }

  // ---- the form as a whole ------------------------------------------------------------------------

  /** Forgets the fields at and below a place, which are drawn anew. @param {string} pointer */
  drop(pointer) {
    this.fields = this.fields.filter((field) => field.pointer !== pointer && !field.pointer.startsWith(`${pointer}/`));
  }
  refresh() {
    for (const field of this.fields) field.refresh();
  }
  /** @param {string} pointer */
  changed(pointer) {
    this.refresh();
    this.onChange(pointer);
  }
  /** @param {string} pointer @param {string} text */
  tellFault(pointer, text) {
    const field = this.fields.find((one) => one.pointer === pointer);
    if (field) say(field.fault, text);
  }

  /** What a check found, each at its field. Returns what has none. @param {Diagnostic[]} diagnostics @returns {Diagnostic[]} */
  tell(diagnostics) {
    /** @type {Map<Field, string[]>} */
    const said = new Map();
    /** @type {Diagnostic[]} */
    const homeless = [];
    const bad = new Set();
    for (const one of diagnostics) {
      const field = this.placeOf(one);
      if (!field) {
        homeless.push(one);
        continue;
      }
      said.set(field, [...(said.get(field) ?? []), one.hint ? `${one.message}: ${one.hint}` : one.message]);
      if (one.severity === 'error') bad.add(field);
    }
    for (const field of this.fields) {
      say(field.fault, (said.get(field) ?? []).join(' '));
      field.element.classList.toggle('wrong', bad.has(field));
      field.element.classList.toggle('odd', said.has(field) && !bad.has(field));
      const away = said.has(field) ? field.element.closest('details.more-of') : null;
      if (away instanceof HTMLDetailsElement) away.open = true;
      if (bad.has(field)) field.control.setAttribute('aria-invalid', 'true');
      else field.control.removeAttribute('aria-invalid');
    }
    return homeless;
  }
  /** The field of a key, of the key that is missing in an object, or that holds the place. @param {Diagnostic} one @returns {Field | undefined} */
  placeOf(one) {
    const at = (/** @type {string} */ pointer) => this.fields.find((field) => field.pointer === pointer && !field.element.hidden);
    const missing = /lacks the key "([^"]+)"/.exec(one.message);
    if (missing) {
      const field = at(`${one.pointer}/${missing[1]}`);
      if (field) return field;
    }
    for (let pointer = one.pointer; pointer !== ''; pointer = pointer.slice(0, pointer.lastIndexOf('/'))) {
      const field = at(pointer);
      if (field) return field;
    }
    return undefined;
  }
}
