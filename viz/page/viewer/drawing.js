// Draws a bag with three.js: its surfaces, their borders, its stitches, what is cut away. It knows
// nothing of the page around the canvas.
import {
  AmbientLight, BufferAttribute, BufferGeometry, Color, DataTexture, DirectionalLight, DoubleSide, DynamicDrawUsage,
  LinearFilter, LinearMipmapLinearFilter, LinearSRGBColorSpace, Mesh, MeshLambertMaterial, OrthographicCamera,
  Points, PointsMaterial, Raycaster, Scene, Sphere, Vector2, Vector3, WebGLRenderer,
} from 'three';
import { LineMaterial } from 'three/addons/lines/LineMaterial.js';
import { LineSegments2 } from 'three/addons/lines/LineSegments2.js';
import { LineSegmentsGeometry } from 'three/addons/lines/LineSegmentsGeometry.js';
import { cutPlane, section } from './cut.js';

// Colours are those of the screen and are reckoned with as they are: the renderer is told that
// nothing needs converting, so that cloth has the very colours of the bar beside it.
const INK = [0.2, 0.18, 0.17], THREAD = [0.97, 0.93, 0.8], CHOSEN = [0.85, 0.1, 0.1], CUT = [0.61, 0.24, 0.12];
// Strengths, and places as the viewer sees them. Cloth at the best angle is lit with just 1, cloth
// that faces the viewer with 0.97; a Lambert material divides what falls on it by pi.
const LIGHTS = { all_round: 0.6, key: [0.35, -0.6, 0.8, 1.2], fill: [0.155, 0.9, -0.2, 0.8] };
const REACH = 10; // pixels beside a stitch that still count as a click on it
// Borders and stitches lie in the cloth; they are drawn this share of the radius nearer.
const LINES_NEARER = 0.0024, STITCHES_NEARER = 0.016, MARK_NEARER = 0.02;

// A round spot; `ring` leaves out its middle.
function spot(ring) {
  const n = 64, data = new Uint8Array(4 * n * n);
  for (let i = 0; i < n * n; ++i) {
    const r = Math.hypot((i % n) + 0.5 - n / 2, Math.floor(i / n) + 0.5 - n / 2) / (n / 2);
    data.set([255, 255, 255, r > 0.97 || (ring && r < 0.72) ? 0 : 255], 4 * i);
  }
  const texture = new DataTexture(data, n, n);
  Object.assign(texture, { magFilter: LinearFilter, minFilter: LinearMipmapLinearFilter, generateMipmaps: true });
  texture.needsUpdate = true;
  return texture;
}

// The colour bar, from which a material reads by the value of the field.
function colourBar(colours) {
  const data = new Uint8Array(colours.flatMap((c) => [...c.map((v) => Math.round(255 * v)), 255]));
  const texture = new DataTexture(data, colours.length, 1);
  Object.assign(texture, { magFilter: LinearFilter, minFilter: LinearFilter });
  texture.needsUpdate = true;
  return texture;
}

// Writes over the values a geometry has, so that the graphics card keeps one buffer for them.
function setValues(geometry, name, values, width) {
  const there = geometry.getAttribute(name);
  if (there) {
    there.array.set(values);
    there.needsUpdate = true;
  } else {
    geometry.setAttribute(name, new BufferAttribute(values.slice(), width).setUsage(DynamicDrawUsage));
  }
}

export class Drawing {
  // `gl` is a WebGL 2 context of the canvas.
  constructor(canvas, gl) {
    this.canvas = canvas;
    this.renderer = new WebGLRenderer({ canvas, context: gl });
    this.renderer.outputColorSpace = LinearSRGBColorSpace;
    this.renderer.localClippingEnabled = true;
    this.camera = new OrthographicCamera();
    this.scene = new Scene();
    this.scene.background = new Color(1, 1, 1);
    this.scene.add(this.camera);
    this.light();

    this.surfaces = new Mesh(new BufferGeometry(), []);
    this.borders = this.lines(INK, 1.2);
    this.cutEdge = this.lines(CUT, 2.2);
    this.stitches = this.spots(THREAD, false);
    this.mark = this.spots(CHOSEN, false);
    this.halo = this.spots(CHOSEN, true); // also where cloth hides the chosen stitch
    this.halo.material.depthTest = false;
    this.halo.renderOrder = 1;
    this.scene.add(this.surfaces, this.borders, this.cutEdge, this.stitches, this.mark, this.halo);
    this.scene.children.forEach((child) => (child.frustumCulled = false));
    this.cut = { kind: 'none', share: 0.5 };
    this.chosen = -1;
  }

  light() {
    // Fixed to the camera, so that turning the bag does not turn it into the dark.
    this.scene.add(new AmbientLight(0xffffff, Math.PI * LIGHTS.all_round));
    for (const [strength, ...place] of [LIGHTS.key, LIGHTS.fill]) {
      const light = new DirectionalLight(0xffffff, Math.PI * strength);
      light.position.set(...place);
      light.target = this.camera;
      this.camera.add(light);
    }
  }
  lines(colour, width) {
    const material = new LineMaterial({ linewidth: width });
    material.color.setRGB(...colour);
    return new LineSegments2(new LineSegmentsGeometry(), material);
  }
  spots(colour, ring) {
    const material = new PointsMaterial({ sizeAttenuation: false, map: spot(ring), alphaTest: 0.5 });
    material.color.setRGB(...colour);
    return new Points(new BufferGeometry(), material);
  }

  // ---- what is drawn ----------------------------------------------------------------------------

  showBag(bag) {
    this.bag = bag;
    const old = this.surfaces;
    for (const material of old.material) {
      material.map?.dispose();
      material.dispose();
    }
    old.geometry.dispose();
    old.geometry = new BufferGeometry();
    old.geometry.setIndex(new BufferAttribute(bag.triangles, 1));
    old.geometry.boundingSphere = new Sphere(new Vector3(...bag.frame.middle), 1.01 * bag.frame.radius);
    old.material = bag.parts.map((part, i) => {
      old.geometry.addGroup(part.first, part.count, i);
      const material = new MeshLambertMaterial({
        side: DoubleSide, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1,
      });
      if (part.coloured && bag.fields.length > 0) material.map = colourBar(bag.colours);
      else material.color.setRGB(...part.colour);
      return material;
    });
    this.chosen = -1;
  }
  showField(number) {
    const stops = this.bag.colours.length, values = this.bag.values[number];
    const count = this.bag.points[0].length / 3;
    const places = new Float32Array(2 * count).fill(0.5);
    // Half a texel in from either end, where the bar's first and last colours are pure.
    if (values) values.forEach((v, i) => (places[2 * i] = (0.5 + v * (stops - 1)) / stops));
    setValues(this.surfaces.geometry, 'uv', places, 2);
  }
  showShape(shape) {
    this.shape = shape;
    setValues(this.surfaces.geometry, 'position', shape.points, 3);
    this.surfaces.geometry.computeVertexNormals();
    const ends = new Float32Array(3 * this.bag.edges.length);
    this.bag.edges.forEach((point, i) => ends.set(shape.points.subarray(3 * point, 3 * point + 3), 3 * i));
    this.setLines(this.borders, ends);
    this.setSpots(this.stitches, shape.stitches);
    this.showStitch(this.chosen);
    this.showCut(this.cut.kind, this.cut.share);
  }
  showStitch(number) {
    this.chosen = number;
    const place = number < 0 ? new Float32Array(0) : this.shape.stitches.slice(3 * number, 3 * number + 3);
    for (const spots of [this.mark, this.halo]) this.setSpots(spots, place);
  }
  showCut(kind, share) {
    this.cut = { kind, share };
    this.plane = cutPlane(kind, share, this.bag.frame);
    this.setLines(this.cutEdge, section(this.shape.points, this.bag.triangles, this.plane));
  }
  setSpots(spots, places) {
    spots.geometry.dispose();
    spots.geometry = new BufferGeometry().setAttribute('position', new BufferAttribute(places, 3));
    spots.geometry.boundingSphere = this.surfaces.geometry.boundingSphere;
    spots.visible = places.length > 0;
  }
  setLines(lines, ends) {
    lines.geometry.dispose();
    lines.geometry = new LineSegmentsGeometry();
    lines.visible = ends.length > 0;
    if (lines.visible) lines.geometry.setPositions(ends);
  }

  // ---- how it is seen ---------------------------------------------------------------------------

  draw(orbit) {
    const width = this.canvas.clientWidth, height = this.canvas.clientHeight;
    if (width === 0 || height === 0) return;
    const ratio = Math.min(2, window.devicePixelRatio || 1), size = this.renderer.getSize(new Vector2());
    if (size.x !== width || size.y !== height || this.renderer.getPixelRatio() !== ratio) {
      this.renderer.setPixelRatio(ratio);
      this.renderer.setSize(width, height, false);
    }
    orbit.aim(this.camera, this.bag.frame, width / height);
    this.metres_per_pixel = (this.camera.top - this.camera.bottom) / height;
    this.towards = new Vector3(...orbit.towards());
    for (const material of this.surfaces.material) material.clippingPlanes = [this.plane];
    this.nearer(this.borders, LINES_NEARER);
    this.nearer(this.cutEdge, LINES_NEARER);
    this.cutEdge.material.clippingPlanes = [];
    this.nearer(this.stitches, STITCHES_NEARER);
    for (const spots of [this.mark, this.halo]) this.nearer(spots, MARK_NEARER);
    const thread = Math.min(11, Math.max(2, (0.62 * this.bag.stitch_apart_m) / this.metres_per_pixel));
    this.stitches.material.size = thread;
    this.mark.material.size = Math.max(9, 1.5 * thread);
    this.halo.material.size = this.mark.material.size + 8;
    this.renderer.render(this.scene, this.camera);
  }
  // Moves lines or spots towards the viewer and their cutting plane with them.
  nearer(thing, share) {
    thing.position.copy(this.towards).multiplyScalar(share * this.bag.frame.radius);
    thing.material.clippingPlanes = [this.plane.clone().translate(thing.position)];
  }

  // The stitch seen at a place of the canvas, -1 where there is none.
  stitchAt(x, y) {
    const width = this.canvas.clientWidth, height = this.canvas.clientHeight, ray = new Raycaster();
    ray.params.Points.threshold = REACH * this.metres_per_pixel;
    ray.setFromCamera(new Vector2((2 * x) / width - 1, 1 - (2 * y) / height), this.camera);
    const near = ray.intersectObject(this.stitches).sort((a, b) => a.distanceToRay - b.distanceToRay);
    return near.find(({ index }) => this.seen(index))?.index ?? -1;
  }
  // Neither cut away nor hidden by cloth that is not.
  seen(stitch) {
    const at = new Vector3().fromArray(this.shape.stitches, 3 * stitch);
    if (this.plane.distanceToPoint(at) < 0) return false;
    const ray = new Raycaster(at.add(this.stitches.position), this.towards);
    return !ray.intersectObject(this.surfaces).some((hit) => this.plane.distanceToPoint(hit.point) >= 0);
  }
}
