// Where the bag is looked at from. Up stays up. The projection is parallel, as in the pictures, so
// that lengths can be compared.

const looks = { corner: [22, 8], front: [0, 0], side: [90, 0], below: [22, -40] };

export class Orbit {
  constructor() {
    this.look('corner');
  }
  look(name) {
    [this.turn, this.lift] = looks[name]; // degrees, from the front to the right and upwards
    this.zoom = 1;
    this.pan = [0, 0]; // metres, to the right and upwards in the picture
  }
  turnBy(degrees, upwards) {
    this.turn += degrees;
    this.lift = Math.min(89, Math.max(-89, this.lift + upwards));
  }
  zoomBy(factor) {
    this.zoom = Math.min(40, Math.max(0.4, this.zoom * factor));
  }
  // Half the width and height of what is seen, in metres.
  halfSize(radius, aspect) {
    const half = (1.03 * radius) / this.zoom;
    return aspect >= 1 ? [half * aspect, half] : [half, half / aspect];
  }
  panBy(right, up) {
    this.pan[0] += right;
    this.pan[1] += up;
  }
  // Whoever faces the front looks along -y and has -x at the right hand.
  towards() {
    const a = (this.turn * Math.PI) / 180, e = (this.lift * Math.PI) / 180;
    return [-Math.sin(a) * Math.cos(e), Math.cos(a) * Math.cos(e), Math.sin(e)];
  }
  aim(camera, frame, aspect) {
    const [w, h] = this.halfSize(frame.radius, aspect), apart = 4 * frame.radius;
    camera.up.set(0, 0, 1);
    camera.position.set(...this.towards()).multiplyScalar(apart);
    camera.position.x += frame.middle[0];
    camera.position.y += frame.middle[1];
    camera.position.z += frame.middle[2];
    camera.lookAt(...frame.middle);
    Object.assign(camera, {
      left: this.pan[0] - w, right: this.pan[0] + w, bottom: this.pan[1] - h, top: this.pan[1] + h,
      near: 0, far: 2 * apart,
    });
    camera.updateProjectionMatrix();
    camera.updateMatrixWorld();
  }
  words() {
    const side = (((this.turn % 360) + 540) % 360) - 180;
    const turned = `${Math.abs(Math.round(side))}° ${side < 0 ? 'left' : 'right'}`;
    const lifted = `${Math.abs(Math.round(this.lift))}° ${this.lift < 0 ? 'below' : 'above'}`;
    return `seen from ${turned} of the front, ${lifted}`;
  }
}
