// A bag as the page carries it (viz/report_model.cpp writes it): unpacked, and its shape at any
// share of the load. Lengths are in metres, z is up, the front looks along +y.

function bytes(base64) {
  const text = atob(base64);
  const out = new Uint8Array(text.length);
  for (let i = 0; i < text.length; ++i) out[i] = text.charCodeAt(i);
  return out.buffer;
}

function places(packed, base64) {
  const counts = new Uint16Array(bytes(base64));
  return Float32Array.from(counts, (count, i) => packed.origin_m[i % 3] + count * packed.metres_per_count);
}

// A box around every step, so that sliding the load does not move the camera, and the distance of
// its middle to the furthest point.
function frame(steps) {
  const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
  for (const points of steps) {
    for (let i = 0; i < points.length; ++i) {
      low[i % 3] = Math.min(low[i % 3], points[i]);
      high[i % 3] = Math.max(high[i % 3], points[i]);
    }
  }
  const [x, y, z] = low.map((v, i) => 0.5 * (v + high[i]));
  let radius = 0;
  for (const points of steps) {
    for (let i = 0; i < points.length; i += 3) {
      radius = Math.max(radius, Math.hypot(points[i] - x, points[i + 1] - y, points[i + 2] - z));
    }
  }
  return { low, high, middle: [x, y, z], radius };
}

// How far apart neighbouring stitches of a site mostly lie, in metres.
function stitchApart(places, stitches) {
  const apart = [];
  for (let i = 1; i < stitches.length; ++i) {
    if (stitches[i].site !== stitches[i - 1].site) continue;
    apart.push(Math.hypot(...[0, 1, 2].map((axis) => places[3 * i + axis] - places[3 * i - 3 + axis])));
  }
  return apart.sort((a, b) => a - b)[apart.length >> 1] ?? 0;
}

// Name, parts, colours, readings and the like stay as they came. `values` has a share of the colour
// bar for each point and field, `triangles` and `edges` are numbers of points.
export function unpack(packed) {
  const points = packed.steps.map((step) => places(packed, step.positions));
  const stitchPlaces = packed.steps.map((step) => places(packed, step.stitches));
  return {
    ...packed,
    points,
    stitchPlaces,
    stitch_apart_m: stitchApart(stitchPlaces[0], packed.stitches),
    triangles: new Uint32Array(bytes(packed.triangles)),
    edges: new Uint32Array(bytes(packed.edges)),
    values: packed.fields.map((field) => Float32Array.from(new Uint16Array(bytes(field.values)), (v) => v / 65535)),
    frame: frame(points),
  };
}

// At a share of the load: places of the points and of the stitches, readings in shown units. Between
// two computed steps they are blended.
export function shapeAt(bag, load) {
  const steps = bag.steps, last = steps.length - 1;
  let k = 0;
  while (k + 2 <= last && steps[k + 1].load < load) ++k;
  const next = Math.min(k + 1, last), span = steps[next].load - steps[k].load;
  const t = span > 0 ? Math.min(1, Math.max(0, (load - steps[k].load) / span)) : 0;
  const between = (a, b) => a + t * (b - a);
  const blend = (list) => list[k].map((value, i) => between(value, list[next][i]));
  return {
    points: blend(bag.points),
    stitches: blend(bag.stitchPlaces),
    readings: bag.readings.map(({ key, name, unit, per_SI }) => (
      { name, unit, value: per_SI * between(steps[k][key], steps[next][key]) })),
  };
}
