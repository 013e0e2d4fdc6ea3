// What is cut away, and the line along which the bag is cut.
import { Plane, Vector3 } from 'three';

const kept = { width: [1, -1], depth: [0, 1], level: [2, -1] }; // axis, and the side of it that stays

// At a share of the bag's extent; the kept side is the positive one. `nothing` keeps all.
export function cutPlane(kind, share, frame) {
  if (!(kind in kept)) return new Plane(new Vector3(0, 0, 1), 1e6);
  const [axis, side] = kept[kind];
  const place = frame.low[axis] + share * (frame.high[axis] - frame.low[axis]);
  return new Plane(new Vector3().setComponent(axis, side), -side * place);
}

// Ends of the pieces in which the plane meets the triangles: x, y, z of one, x, y, z of the other.
export function section(points, triangles, plane) {
  const n = plane.normal, out = [];
  const above = (i) => n.x * points[3 * i] + n.y * points[3 * i + 1] + n.z * points[3 * i + 2] + plane.constant;
  for (let first = 0; first < triangles.length; first += 3) {
    for (let k = 0; k < 3; ++k) {
      const a = triangles[first + k], b = triangles[first + ((k + 1) % 3)];
      const u = above(a), v = above(b);
      if (u < 0 === v < 0) continue;
      const t = u / (u - v);
      for (let axis = 0; axis < 3; ++axis) {
        out.push(points[3 * a + axis] + t * (points[3 * b + axis] - points[3 * a + axis]));
      }
    }
  }
  return new Float32Array(out);
}
