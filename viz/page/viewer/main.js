// The 3-D view of the report page: data from <script id="models">, drawn on <canvas id="view">.
// Everything the mouse can do, the keyboard and the form beside the canvas can do too.
import { shapeAt, unpack } from './bag.js';
import { Drawing } from './drawing.js';
import { takeHands } from './hands.js';
import { Orbit } from './orbit.js';
import * as panel from './panel.js';

function start(canvas, packed, gl) {
  const drawing = new Drawing(canvas, gl), orbit = new Orbit(), bags = [];
  let bag, shape, field = 0, load = 1, stitch = -1, waiting = false;

  function redraw() {
    if (waiting) return;
    waiting = true;
    requestAnimationFrame(() => {
      waiting = false;
      drawing.draw(orbit);
      panel.tellLoadAndAngle(bag, load, shape.readings, orbit.words());
    });
  }
  // Something that is followed by a new picture.
  const then = (change) => (...args) => {
    change(...args);
    redraw();
  };

  const chooseStitch = then((number) => {
    stitch = number;
    drawing.showStitch(number);
    panel.tellStitch(bag, number);
  });
  const chooseLoad = then((share) => {
    load = share;
    shape = shapeAt(bag, load);
    drawing.showShape(shape);
  });
  const chooseField = then((number) => {
    field = number;
    drawing.showField(field);
    panel.tellField(bag, field);
  });
  function chooseBag(number) {
    bag = bags[number] ??= unpack(packed[number]);
    drawing.showBag(bag);
    if (field >= bag.fields.length) field = 0;
    panel.offerFields(bag, field);
    panel.offerStitches(bag);
    chooseField(field);
    chooseLoad(load);
    chooseStitch(-1);
  }

  panel.listen(packed.map((model) => model.name), {
    chooseBag, chooseField, chooseLoad, chooseStitch,
    chooseCut: then((kind, share) => drawing.showCut(kind, share)),
    look: then((name) => orbit.look(name)),
  });
  takeHands(canvas, {
    turnBy: then((degrees, upwards) => orbit.turnBy(degrees, upwards)),
    zoomBy: then((factor) => orbit.zoomBy(factor)),
    moveBy: then((x, y) => orbit.panBy(-x * drawing.metres_per_pixel, y * drawing.metres_per_pixel)),
    goBack: then(() => orbit.look('corner')),
    chooseAt: (x, y) => chooseStitch(drawing.stitchAt(x, y)),
    stepStitch: (by) => chooseStitch(Math.min(bag.stitches.length - 1, Math.max(-1, stitch + by))),
  });
  new ResizeObserver(redraw).observe(canvas);
  canvas.addEventListener('webglcontextrestored', redraw);
  chooseBag(0);
}

const canvas = document.getElementById('view');
const gl = canvas.getContext('webgl2', { alpha: false, antialias: true, preserveDrawingBuffer: true });
if (gl) {
  start(canvas, JSON.parse(document.getElementById('models').textContent), gl);
} else {
  panel.tellNo3d(
    'This browser cannot draw in 3-D (WebGL 2 is missing or switched off); the picture above shows the same.');
}
