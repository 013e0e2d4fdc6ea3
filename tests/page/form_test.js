// The page's form, layers and scenes, without a browser: held against the keys as the program tells
// them. Usage: node form_test.js TOTEBENCH
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { Form, below, emptyText, moreOf, kindOf, numberOf } from '../../app/page/src/form.js';
import { glanceOf, joined, moved } from '../../app/page/src/layers.js';
import { copyOf, fileName, get, set, textOf, treeOf, whenOf } from '../../app/page/src/scene.js';

const [program] = process.argv.slice(2);
const house = path.join(path.dirname(fileURLToPath(import.meta.url)), '../..');
const keys = JSON.parse(execFileSync(program, ['explain', '--json']));
const keyOf = (name) => keys.find(({ key }) => key === name);
const demo = () => JSON.parse(fs.readFileSync(path.join(house, 'scenes/examples/demo.json'), 'utf8'));

const tests = {
  'every key of a scene has a field it can be typed in'() {
    const kinds = new Map();
    for (const key of keys.filter(({ key }) => !key.startsWith('swatch'))) {
      kinds.set(kindOf(key), [...(kinds.get(kindOf(key)) ?? []), key.key]);
    }
    // What is written as in the file: nothing else may fall through to that.
    assert.deepEqual(kinds.get('raw').filter((key) => !/^(materials|choose|sweep)\./.test(key)),
      ['materials', 'expect', 'variants[].change']);
    assert.ok(kinds.get('quantity').includes('bag.width'));
    assert.ok(kinds.get('vector').includes('probes[].point'));
    assert.ok(kinds.get('material').includes('layers.upper[].material'));
  },
  'a part has its own keys and not those below them'() {
    const names = below(keys, 'straps').map(({ key }) => key);
    assert.ok(names.includes('straps.attachment'));
    assert.ok(!names.includes('straps.attachment.rows'));
    assert.deepEqual(below(keys, 'support').map(({ key }) => key), ['support.kind', 'support.diameter', 'support.grip_width']);
  },
  'an empty field says what it stands for'() {
    assert.equal(emptyText(keyOf('bag.hem')), '1 in');
    assert.equal(emptyText(keyOf('bag.width')), 'usually 6 in to 26 in');
    assert.match(moreOf(keyOf('bag.hem')), /^Left empty: 1 in .*Usual: 0 mm to 3 in\.$/);
  },
  'numbers are numbers, and what is none is left to the check'() {
    assert.equal(numberOf('3'), 3);
    assert.equal(numberOf(' 1e-3 '), 1e-3);
    assert.equal(numberOf('three'), 'three');
    assert.equal(numberOf(''), undefined);
  },
  'a key shows beside the choice it hangs on'() {
    const form = new Form({ keys, materials: [], threads: [], stitches: [] }, () => {});
    form.scene = demo();
    assert.deepEqual(whenOf(keyOf('bag.depth').only_when), { key: 'shape', values: ['boxed', 'gusset'] });
    assert.ok(form.applies(keyOf('bag.depth'), '/bag/depth'));
    assert.ok(!form.applies(keyOf('bag.corner_radius'), '/bag/corner_radius'));
    assert.ok(!form.applies(keyOf('support.diameter'), '/support/diameter')); // by its default, a hand
    form.scene = {};
    assert.ok(!form.applies(keyOf('base.material'), '/base/material'));
    assert.ok(form.applies(keyOf('support.grip_width'), '/support/grip_width'));
  },
  'a choice puts aside what it makes meaningless, and brings it back'() {
    const form = new Form({ keys, materials: [], threads: [], stitches: [] }, () => {});
    form.scene = demo();
    set(form.scene, '/bag/shape', 'sack');
    form.rest(keyOf('bag.shape'), '/bag');
    assert.equal(get(form.scene, '/bag/depth'), undefined);
    set(form.scene, '/bag/shape', 'gusset');
    form.rest(keyOf('bag.shape'), '/bag');
    assert.equal(get(form.scene, '/bag/depth'), '6 in');
  },
  'a scene is set, emptied and written as the program reads it'() {
    const scene = demo();
    set(scene, '/straps/attachment/rows', 2);
    set(scene, '/layers/upper/1/thickness', '1 mm');
    set(scene, '/feet/count', 4);
    assert.equal(get(scene, '/layers/upper/1/thickness'), '1 mm');
    set(scene, '/layers/upper/1/thickness', undefined);
    set(scene, '/feet/patch', undefined);
    assert.deepEqual(Object.keys(scene.layers.upper[1]), ['material', 'join']);
    assert.deepEqual(scene.feet, { count: 4 });
    assert.deepEqual(copyOf(scene), scene);
    assert.deepEqual(JSON.parse(textOf(demo())), demo());
    assert.equal(fileName({ name: 'Mein  Beutel/3' }), 'Mein-Beutel-3');
    assert.equal(fileName({ name: '../..' }), 'bag');
  },
  'a text may hold comments'() {
    const text = '{ // a bag\n "name": "a // no comment, \\" nor /* this */", /* but\nthis */ "kind": "tote" }';
    assert.deepEqual(treeOf(text), { name: 'a // no comment, " nor /* this */', kind: 'tote' });
    assert.throws(() => treeOf('{ /* never closed }'), SyntaxError);
  },
  'layers change places, and only the first has no join'() {
    const stack = [{ material: 'a' }, { material: 'b', join: 'fused' }, { material: 'c', join: 'quilted', quilting_pitch: '2 in' }];
    assert.deepEqual(moved(stack, 2, 0), [{ material: 'c' }, { material: 'a', join: 'sewn at edges' }, { material: 'b', join: 'fused' }]);
    assert.deepEqual(moved(stack, 0, 1).map(({ material }) => material), ['b', 'a', 'c']);
    assert.deepEqual(joined(stack.slice(1))[0], { material: 'b' });
    assert.deepEqual(stack[0], { material: 'a' }); // the given stack is as it was
  },
  'a layer is told in the units of the bag'() {
    const duck = { id: 'd', name: 'duck', category: 'fabric', areal_mass_kg_per_m2: 0.339057, thickness_m: 6.6e-4, grade: 'estimate' };
    assert.equal(glanceOf(duck, 'in'), 'fabric · 10 oz/yd² · 0.026 in · estimate');
    assert.equal(glanceOf(duck, 'cm'), 'fabric · 340 g/m² · 0.66 mm · estimate');
  },
};

for (const [name, test] of Object.entries(tests)) {
  test();
  console.log(`ok: ${name}`);
}
