// The 3-D view of the report page. Plain WebGL, no library: one mesh of a few thousand triangles,
// one camera that orbits with up staying up. Data come from <script id="models">, written by
// viz/report_model.cpp. Everything the mouse can do, the keyboard and the form below can do too.
(function () {
  'use strict';

  const canvas = document.getElementById('view');
  if (!canvas) return;
  const models = JSON.parse(document.getElementById('models').textContent);
  const $ = (id) => document.getElementById(id);

  // ---- data -----------------------------------------------------------------------------------

  function bytes(base64) {
    const text = atob(base64);
    const out = new Uint8Array(text.length);
    for (let i = 0; i < text.length; ++i) out[i] = text.charCodeAt(i);
    return out.buffer;
  }

  function unpack(model) {
    if (model.ready) return model.ready;
    const lengths = (base64) => {
      const whole = new Uint16Array(bytes(base64));
      const out = new Float32Array(whole.length);
      for (let i = 0; i < whole.length; ++i) {
        out[i] = model.origin_m[i % 3] + whole[i] * model.metres_per_count;
      }
      return out;
    };
    model.ready = {
      steps: model.steps.map((step) => lengths(step.positions)),
      triangles: new Uint32Array(bytes(model.triangles)),
      edges: new Uint32Array(bytes(model.edges)),
      fields: model.fields.map((field) => {
        const whole = new Uint16Array(bytes(field.values));
        const out = new Float32Array(whole.length);
        for (let i = 0; i < whole.length; ++i) out[i] = whole[i] / 65535;
        return out;
      }),
      stitches: model.steps.map((step) => (step.stitches ? lengths(step.stitches) : new Float32Array(0))),
    };
    return model.ready;
  }

  // Between two computed steps the shape is blended.
  function blend(model, load) {
    const steps = model.steps;
    let k = 0;
    while (k + 2 < steps.length && steps[k + 1].load < load) ++k;
    if (steps.length === 1) return { k, t: 0 };
    const span = steps[k + 1].load - steps[k].load;
    return { k, t: span > 0 ? Math.min(1, Math.max(0, (load - steps[k].load) / span)) : 1 };
  }
  function mixed(list, where) {
    if (list.length === 1) return list[0];
    const a = list[where.k], b = list[where.k + 1];
    const out = new Float32Array(a.length);
    for (let i = 0; i < a.length; ++i) out[i] = a[i] + where.t * (b[i] - a[i]);
    return out;
  }
  function mixedNumber(model, key, where) {
    const a = model.steps[where.k][key];
    const b = model.steps[Math.min(where.k + 1, model.steps.length - 1)][key];
    return a + where.t * (b - a);
  }

  function normals(points, triangles) {
    const out = new Float32Array(points.length);
    for (let i = 0; i < triangles.length; i += 3) {
      const [a, b, c] = [3 * triangles[i], 3 * triangles[i + 1], 3 * triangles[i + 2]];
      const ux = points[b] - points[a], uy = points[b + 1] - points[a + 1], uz = points[b + 2] - points[a + 2];
      const vx = points[c] - points[a], vy = points[c + 1] - points[a + 1], vz = points[c + 2] - points[a + 2];
      const nx = uy * vz - uz * vy, ny = uz * vx - ux * vz, nz = ux * vy - uy * vx;
      for (const p of [a, b, c]) {
        out[p] += nx;
        out[p + 1] += ny;
        out[p + 2] += nz;
      }
    }
    return out;
  }

  // ---- drawing --------------------------------------------------------------------------------

  const gl = canvas.getContext('webgl2', { antialias: true, preserveDrawingBuffer: true });
  if (!gl) {
    $('view-box').classList.add('no-3d');
    $('view-status').textContent =
      'This browser cannot draw in 3-D (WebGL 2 is missing or switched off); the picture above shows the same.';
    return;
  }

  const surfaceVertex = `#version 300 es
    in vec3 point; in vec3 normal; in float value;
    uniform mat4 camera;
    out vec3 v_normal; out vec3 v_point; out float v_value;
    void main() { v_normal = normal; v_point = point; v_value = value; gl_Position = camera * vec4(point, 1.0); }`;
  // The colour map is the one of the pictures, given as nine colours.
  const surfaceFragment = `#version 300 es
    precision highp float;
    in vec3 v_normal; in vec3 v_point; in float v_value;
    uniform vec3 plain; uniform bool coloured; uniform vec4 cut; uniform vec3 towards; uniform vec3 right; uniform vec3 up;
    uniform vec3 map[9];
    out vec4 colour;
    void main() {
      if (dot(cut.xyz, v_point) > cut.w) discard;
      vec3 n = normalize(v_normal);
      if (dot(n, towards) < 0.0) n = -n;
      float key = max(0.0, dot(n, normalize(-0.6 * right + 0.8 * up + 1.2 * towards)));
      float fill = max(0.0, dot(n, normalize(0.9 * right - 0.2 * up + 0.8 * towards)));
      float place = 8.0 * clamp(v_value, 0.0, 1.0);
      int i = int(min(7.0, floor(place)));
      vec3 base = coloured ? mix(map[i], map[i + 1], place - float(i)) : plain;
      float light = coloured ? 0.62 + 0.33 * key + 0.10 * fill : 0.42 + 0.5 * key + 0.18 * fill;
      colour = vec4(base * light, 1.0);
    }`;
  const lineVertex = `#version 300 es
    in vec3 point; uniform mat4 camera; uniform float nearer; uniform float size; uniform float chosen;
    out vec3 v_point; flat out float is_chosen; flat out float number;
    void main() {
      v_point = point;
      number = float(gl_VertexID);
      is_chosen = float(gl_VertexID) == chosen ? 1.0 : 0.0;
      gl_Position = camera * vec4(point, 1.0);
      gl_Position.z -= nearer * gl_Position.w;
      gl_PointSize = size * (1.0 + is_chosen);
    }`;
  const lineFragment = `#version 300 es
    precision highp float;
    in vec3 v_point; flat in float is_chosen; flat in float number;
    uniform vec4 cut; uniform vec3 plain; uniform bool dotted; uniform bool numbered;
    out vec4 colour;
    void main() {
      if (dot(cut.xyz, v_point) > cut.w) discard;
      if (dotted && length(gl_PointCoord - 0.5) > 0.5) discard;
      colour = vec4(is_chosen > 0.5 ? vec3(0.85, 0.1, 0.1) : plain, 1.0);
      if (numbered) colour = vec4(mod(number, 256.0) / 255.0, floor(number / 256.0) / 255.0, 1.0, 1.0);
    }`;

  function program(vertex, fragment) {
    const made = gl.createProgram();
    for (const [kind, text] of [[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]]) {
      const shader = gl.createShader(kind);
      gl.shaderSource(shader, text);
      gl.compileShader(shader);
      if (!gl.getShaderParameter(shader, gl.COMPILE_STATUS)) throw new Error(gl.getShaderInfoLog(shader));
      gl.attachShader(made, shader);
    }
    for (const [place, name] of ['point', 'normal', 'value'].entries()) gl.bindAttribLocation(made, place, name);
    gl.linkProgram(made);
    if (!gl.getProgramParameter(made, gl.LINK_STATUS)) throw new Error(gl.getProgramInfoLog(made));
    const at = {};
    const count = gl.getProgramParameter(made, gl.ACTIVE_UNIFORMS);
    for (let i = 0; i < count; ++i) {
      const name = gl.getActiveUniform(made, i).name.replace('[0]', '');
      at[name] = gl.getUniformLocation(made, name);
    }
    return { made, at };
  }
  const surface = program(surfaceVertex, surfaceFragment);
  const lines = program(lineVertex, lineFragment);
  const buffer = {};
  for (const name of ['point', 'normal', 'value', 'stitch', 'arrow']) buffer[name] = gl.createBuffer();
  const indexBuffer = { triangles: gl.createBuffer(), edges: gl.createBuffer() };

  function upload(target, which, data, usage) {
    gl.bindBuffer(target, which);
    gl.bufferData(target, data, usage);
  }
  function feed(place, which, width) {
    gl.bindBuffer(gl.ARRAY_BUFFER, which);
    gl.enableVertexAttribArray(place);
    gl.vertexAttribPointer(place, width, gl.FLOAT, false, 0, 0);
  }

  // ---- state ----------------------------------------------------------------------------------

  const front = { turn: 22, lift: 8, zoom: 1, pan: [0, 0] };
  const state = { bag: 0, field: 0, load: 1, cut: 'none', cutAt: 0.5, stitch: -1, ...structuredClone(front) };
  let shape = null; // points of the present shape
  let stitches = new Float32Array(0);
  let middle = [0, 0, 0], radius = 1, low = [0, 0, 0], high = [0, 0, 0];

  const model = () => models[state.bag];

  function takeBag() {
    const data = unpack(model());
    // One frame for empty and loaded, so that sliding the load does not move the camera.
    low = [1e9, 1e9, 1e9];
    high = [-1e9, -1e9, -1e9];
    for (const points of data.steps) {
      for (let i = 0; i < points.length; ++i) {
        low[i % 3] = Math.min(low[i % 3], points[i]);
        high[i % 3] = Math.max(high[i % 3], points[i]);
      }
    }
    middle = low.map((v, i) => 0.5 * (v + high[i]));
    radius = 0.5 * Math.hypot(...low.map((v, i) => high[i] - v));
    upload(gl.ELEMENT_ARRAY_BUFFER, indexBuffer.triangles, data.triangles, gl.STATIC_DRAW);
    upload(gl.ELEMENT_ARRAY_BUFFER, indexBuffer.edges, data.edges, gl.STATIC_DRAW);
    takeField();
    takeShape();
  }
  function takeField() {
    const data = unpack(model());
    const values = data.fields.length > state.field ? data.fields[state.field] : new Float32Array(data.steps[0].length / 3);
    upload(gl.ARRAY_BUFFER, buffer.value, values, gl.STATIC_DRAW);
  }
  function takeShape() {
    const data = unpack(model());
    const where = blend(model(), state.load);
    shape = mixed(data.steps, where);
    stitches = mixed(data.stitches, where);
    upload(gl.ARRAY_BUFFER, buffer.point, shape, gl.DYNAMIC_DRAW);
    upload(gl.ARRAY_BUFFER, buffer.normal, normals(shape, data.triangles), gl.DYNAMIC_DRAW);
    upload(gl.ARRAY_BUFFER, buffer.stitch, stitches, gl.DYNAMIC_DRAW);
  }

  // Camera: parallel projection, as in the pictures, so that lengths can be compared.
  function axes() {
    const a = (state.turn * Math.PI) / 180, e = (state.lift * Math.PI) / 180;
    // Whoever faces the front looks along -y and has -x at the right hand.
    const towards = [-Math.sin(a) * Math.cos(e), Math.cos(a) * Math.cos(e), Math.sin(e)];
    const right = [-Math.cos(a), -Math.sin(a), 0];
    const up = [
      towards[1] * right[2] - towards[2] * right[1],
      towards[2] * right[0] - towards[0] * right[2],
      towards[0] * right[1] - towards[1] * right[0],
    ];
    return { towards, right, up };
  }
  const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
  // Half the width and height of what is seen, in metres.
  function halfSize() {
    const aspect = canvas.clientWidth / canvas.clientHeight;
    const half = (1.02 * radius) / state.zoom;
    return aspect >= 1 ? [half * aspect, half] : [half, half / aspect];
  }
  function cameraMatrix(view) {
    const [w, h] = halfSize();
    const depth = 4 * radius;
    const row = (axis, scale, shift) => [...axis.map((v) => v * scale), -dot(axis, middle) * scale - shift];
    const x = row(view.right, 1 / w, state.pan[0] / w);
    const y = row(view.up, 1 / h, state.pan[1] / h);
    const z = row(view.towards, -1 / depth, 0);
    return new Float32Array([x[0], y[0], z[0], 0, x[1], y[1], z[1], 0, x[2], y[2], z[2], 0, x[3], y[3], z[3], 1]);
  }
  function cutPlane() {
    if (state.cut === 'none') return [0, 0, 0, 1];
    const axis = { width: 1, depth: 0, level: 2 }[state.cut];
    const plane = [0, 0, 0, 0];
    // What lies in front of the plane is taken away.
    const sign = axis === 0 ? -1 : 1;
    plane[axis] = sign;
    plane[3] = sign * (low[axis] + state.cutAt * (high[axis] - low[axis]));
    return plane;
  }

  let waiting = false;
  function redraw() {
    if (waiting) return;
    waiting = true;
    requestAnimationFrame(() => {
      waiting = false;
      draw(0);
    });
  }

  // With a `pick` ratio it draws what stitchAt() reads: surfaces black, stitches as numbers.
  function draw(pick) {
    const ratio = Math.min(2, window.devicePixelRatio || 1);
    const width = Math.round(canvas.clientWidth * ratio), height = Math.round(canvas.clientHeight * ratio);
    if (canvas.width !== width || canvas.height !== height) {
      canvas.width = width;
      canvas.height = height;
    }
    const view = axes(), camera = cameraMatrix(view), cut = cutPlane(), now = model();
    gl.viewport(0, 0, width, height);
    gl.clearColor(pick ? 0 : 1, pick ? 0 : 1, pick ? 0 : 1, 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);

    gl.useProgram(surface.made);
    gl.uniformMatrix4fv(surface.at.camera, false, camera);
    gl.uniform4fv(surface.at.cut, cut);
    gl.uniform3fv(surface.at.towards, view.towards);
    gl.uniform3fv(surface.at.right, view.right);
    gl.uniform3fv(surface.at.up, view.up);
    gl.uniform3fv(surface.at.map, now.colours.flat());
    feed(0, buffer.point, 3);
    feed(1, buffer.normal, 3);
    feed(2, buffer.value, 1);
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, indexBuffer.triangles);
    gl.enable(gl.POLYGON_OFFSET_FILL);
    gl.polygonOffset(1, 1);
    for (const part of now.parts) {
      if (part.count === 0) continue;
      gl.uniform1i(surface.at.coloured, !pick && part.coloured && now.fields.length > state.field ? 1 : 0);
      gl.uniform3fv(surface.at.plain, pick ? [0, 0, 0] : part.colour);
      gl.drawElements(gl.TRIANGLES, part.count, gl.UNSIGNED_INT, 4 * part.first);
    }
    gl.disable(gl.POLYGON_OFFSET_FILL);

    gl.useProgram(lines.made);
    gl.disableVertexAttribArray(1);
    gl.disableVertexAttribArray(2);
    gl.uniformMatrix4fv(lines.at.camera, false, camera);
    gl.uniform4fv(lines.at.cut, cut);
    gl.uniform1f(lines.at.nearer, 0.0006);
    gl.uniform1f(lines.at.chosen, -1);
    gl.uniform1i(lines.at.dotted, 0);
    gl.uniform1i(lines.at.numbered, 0);
    gl.uniform3f(lines.at.plain, 0.2, 0.18, 0.17);
    feed(0, buffer.point, 3);
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, indexBuffer.edges);
    if (!pick) gl.drawElements(gl.LINES, unpack(now).edges.length, gl.UNSIGNED_INT, 0);

    if (stitches.length > 0) {
      feed(0, buffer.stitch, 3);
      gl.uniform1f(lines.at.nearer, 0.004);
      gl.uniform1f(lines.at.chosen, pick ? -1 : state.stitch);
      gl.uniform1i(lines.at.numbered, pick ? 1 : 0);
      gl.uniform1f(lines.at.size, 5 * ratio * Math.min(2.2, Math.sqrt(state.zoom)));
      gl.uniform1i(lines.at.dotted, 1);
      gl.uniform3f(lines.at.plain, 0.97, 0.93, 0.8);
      gl.drawArrays(gl.POINTS, 0, stitches.length / 3);
    }
    if (!pick) tellState();
  }

  // ---- words ----------------------------------------------------------------------------------

  function number(value) {
    if (!isFinite(value)) return 'not known';
    if (Math.abs(value) < 1e-9) return '0';
    return Number(value.toPrecision(3)).toString();
  }
  function tellState() {
    const now = model(), where = blend(now, state.load);
    const side = ((state.turn % 360) + 540) % 360 - 180;
    const turned = `${Math.abs(Math.round(side))}° ${side < 0 ? 'left' : 'right'}`;
    const lifted = `${Math.abs(Math.round(state.lift))}° ${state.lift < 0 ? 'below' : 'above'}`;
    const said = `seen from ${turned} of the front, ${lifted}`;
    $('view-angle').value = said;
    const readings = now.readings
      .map((r) => `${r.name} ${number(mixedNumber(now, r.key, where) * r.per_SI)} ${r.unit}`)
      .join(', ');
    $('view-load').value = `${Math.round(100 * state.load)} % of the load` + (readings ? `: ${readings}` : '');
    canvas.setAttribute('aria-label', `${now.name} in 3-D, ${Math.round(100 * state.load)} % loaded, ${said}`);
  }
  function tellStitch() {
    const out = $('view-stitch');
    const now = model();
    if (state.stitch < 0 || !now.stitches[state.stitch]) {
      out.textContent = now.stitches.length ? 'Click a stitch, or choose one, to read its force at full load.' : '';
      return;
    }
    const s = now.stitches[state.stitch], f = now.force;
    const n = (v) => number(v * f.per_SI);
    out.textContent =
      `Stitch ${s.number} of ${s.site}: ${n(s.total_N)} ${f.unit} at full load; along the strap ${n(s.along_N)}, ` +
      `across it ${n(s.across_N)}, lifting it off ${n(s.peel_N)} ${f.unit}.`;
  }
  function tellField() {
    const now = model(), field = now.fields[state.field];
    $('view-bar').hidden = !field;
    if (!field) return;
    const stops = now.colours.map((c) => `rgb(${c.map((v) => Math.round(255 * v)).join(',')})`).join(',');
    $('view-bar-strip').style.background = `linear-gradient(to right, ${stops})`;
    $('view-bar-low').textContent = number(field.low);
    $('view-bar-mid').textContent = number(0.5 * (field.low + field.high));
    $('view-bar-high').textContent = number(field.high) + (field.more ? ' and more' : '');
    $('view-bar-title').textContent = `${field.name}, ${field.unit}, ${field.at}`;
  }

  // ---- hands ----------------------------------------------------------------------------------

  function turnBy(degrees, upwards) {
    state.turn += degrees;
    state.lift = Math.min(89, Math.max(-89, state.lift + upwards));
    redraw();
  }
  function zoomBy(factor) {
    state.zoom = Math.min(40, Math.max(0.4, state.zoom * factor));
    redraw();
  }
  // Draws every stitch in a colour that is its number, hidden ones hidden, and reads the spot.
  function stitchAt(px, py) {
    if (stitches.length === 0) return -1;
    const ratio = canvas.width / canvas.clientWidth;
    draw(ratio);
    const reach = Math.round(10 * ratio), side = 2 * reach + 1;
    const x0 = Math.round(px * ratio) - reach, y0 = canvas.height - Math.round(py * ratio) - reach;
    const seen = new Uint8Array(4 * side * side);
    gl.readPixels(x0, y0, side, side, gl.RGBA, gl.UNSIGNED_BYTE, seen);
    let best = -1, least = 1e9;
    for (let i = 0; i < side * side; ++i) {
      const number = seen[4 * i] + 256 * seen[4 * i + 1];
      if (seen[4 * i + 2] !== 255 || number >= stitches.length / 3) continue;
      const apart = Math.hypot((i % side) - reach, Math.floor(i / side) - reach);
      if (apart < least) [best, least] = [number, apart];
    }
    redraw();
    return best;
  }
  function chooseStitch(i) {
    state.stitch = i;
    const list = $('choose-stitch');
    if (list) list.value = String(i);
    tellStitch();
    redraw();
  }

  const fingers = new Map();
  let travelled = 0;
  canvas.addEventListener('pointerdown', (event) => {
    canvas.setPointerCapture(event.pointerId);
    fingers.set(event.pointerId, [event.offsetX, event.offsetY]);
    travelled = 0;
    canvas.focus({ preventScroll: true });
  });
  canvas.addEventListener('pointermove', (event) => {
    const before = fingers.get(event.pointerId);
    if (!before) return;
    const now = [event.offsetX, event.offsetY];
    const dx = now[0] - before[0], dy = now[1] - before[1];
    travelled += Math.abs(dx) + Math.abs(dy);
    if (fingers.size === 2) {
      const other = [...fingers.entries()].find(([id]) => id !== event.pointerId)[1];
      const was = Math.hypot(before[0] - other[0], before[1] - other[1]);
      const is = Math.hypot(now[0] - other[0], now[1] - other[1]);
      if (was > 0) zoomBy(is / was);
    } else if (event.shiftKey || event.buttons === 2) {
      const [w, h] = halfSize();
      state.pan[0] -= (2 * w * dx) / canvas.clientWidth;
      state.pan[1] += (2 * h * dy) / canvas.clientHeight;
      redraw();
    } else {
      turnBy(-0.5 * dx, 0.5 * dy);
    }
    fingers.set(event.pointerId, now);
  });
  for (const name of ['pointerup', 'pointercancel']) {
    canvas.addEventListener(name, (event) => {
      if (name === 'pointerup' && travelled < 5 && fingers.size === 1) chooseStitch(stitchAt(event.offsetX, event.offsetY));
      fingers.delete(event.pointerId);
    });
  }
  canvas.addEventListener('contextmenu', (event) => event.preventDefault());
  canvas.addEventListener('wheel', (event) => {
    event.preventDefault();
    zoomBy(Math.exp(-0.0014 * event.deltaY));
  }, { passive: false });
  canvas.addEventListener('keydown', (event) => {
    const steps = {
      ArrowLeft: () => turnBy(-5, 0), ArrowRight: () => turnBy(5, 0),
      ArrowUp: () => turnBy(0, 5), ArrowDown: () => turnBy(0, -5),
      '+': () => zoomBy(1.2), '=': () => zoomBy(1.2), '-': () => zoomBy(1 / 1.2),
      Home: () => { Object.assign(state, structuredClone(front)); redraw(); },
      n: () => chooseStitch(Math.min(model().stitches.length - 1, state.stitch + 1)),
      p: () => chooseStitch(Math.max(-1, state.stitch - 1)),
    };
    const step = steps[event.key];
    if (!step || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    step();
  });

  function fill(list, items, chosen) {
    list.textContent = '';
    for (const [value, text] of items) list.add(new Option(text, value, false, String(value) === String(chosen)));
  }
  function listStitches() {
    const list = $('choose-stitch');
    const now = model();
    list.closest('label').hidden = now.stitches.length === 0;
    fill(list, [[-1, 'none'], ...now.stitches.map((s, i) => [i, `${s.site}, ${s.number}`])], state.stitch);
  }
  function showBag() {
    fill($('choose-field'), model().fields.map((f, i) => [i, f.name]), state.field);
    $('choose-field').closest('label').hidden = model().fields.length === 0;
    state.stitch = -1;
    listStitches();
    takeBag();
    tellField();
    tellStitch();
    redraw();
  }

  fill($('choose-bag'), models.map((m, i) => [i, m.name]), 0);
  $('choose-bag').closest('label').hidden = models.length < 2;
  $('choose-bag').addEventListener('change', (event) => {
    state.bag = Number(event.target.value);
    if (state.field >= model().fields.length) state.field = 0;
    showBag();
  });
  $('choose-field').addEventListener('change', (event) => {
    state.field = Number(event.target.value);
    takeField();
    tellField();
    redraw();
  });
  $('choose-load').addEventListener('input', (event) => {
    state.load = Number(event.target.value) / 100;
    takeShape();
    redraw();
  });
  $('choose-cut').addEventListener('change', (event) => {
    state.cut = event.target.value;
    $('choose-cut-at').disabled = state.cut === 'none';
    redraw();
  });
  $('choose-cut-at').addEventListener('input', (event) => {
    state.cutAt = Number(event.target.value) / 100;
    redraw();
  });
  $('choose-stitch').addEventListener('change', (event) => chooseStitch(Number(event.target.value)));
  const looks = { front: [0, 0], side: [90, 0], corner: [22, 8], below: [22, -40] };
  for (const button of document.querySelectorAll('[data-look]')) {
    button.addEventListener('click', () => {
      [state.turn, state.lift] = looks[button.dataset.look];
      state.zoom = 1;
      state.pan = [0, 0];
      redraw();
    });
  }
  window.addEventListener('resize', redraw);
  canvas.addEventListener('webglcontextlost', (event) => event.preventDefault());
  canvas.addEventListener('webglcontextrestored', () => location.reload());

  // Forms keep what was chosen when a page is loaded again; start from what is drawn.
  $('choose-load').value = 100;
  $('choose-cut').value = 'none';
  showBag();
})();
