// Mouse, fingers and keys on the canvas. `act` has what they bring about: turnBy(degrees, upwards),
// zoomBy(factor), moveBy(x, y in pixels), goBack(), chooseAt(x, y in pixels), stepStitch(+1 or -1).

const STILL = 5; // pixels a finger may travel and still have clicked

export function takeHands(canvas, act) {
  const fingers = new Map();
  let travelled = 0;

  canvas.addEventListener('pointerdown', (event) => {
    canvas.setPointerCapture(event.pointerId);
    fingers.set(event.pointerId, [event.offsetX, event.offsetY]);
    travelled = fingers.size === 1 ? 0 : STILL; // two fingers never click
  });
  canvas.addEventListener('pointermove', (event) => {
    const before = fingers.get(event.pointerId);
    if (!before) return;
    const now = [event.offsetX, event.offsetY];
    const dx = now[0] - before[0], dy = now[1] - before[1];
    travelled += Math.abs(dx) + Math.abs(dy);
    if (fingers.size === 2) {
      const other = [...fingers].find(([id]) => id !== event.pointerId)[1];
      const was = Math.hypot(before[0] - other[0], before[1] - other[1]);
      const is = Math.hypot(now[0] - other[0], now[1] - other[1]);
      if (was > 0) act.zoomBy(is / was);
      act.moveBy(0.5 * dx, 0.5 * dy);
    } else if (event.shiftKey || event.buttons === 2) {
      act.moveBy(dx, dy);
    } else {
      act.turnBy(-0.5 * dx, 0.5 * dy);
    }
    fingers.set(event.pointerId, now);
  });
  canvas.addEventListener('pointerup', (event) => {
    if (travelled < STILL && fingers.size === 1) act.chooseAt(event.offsetX, event.offsetY);
    fingers.delete(event.pointerId);
  });
  canvas.addEventListener('pointercancel', (event) => fingers.delete(event.pointerId));
  canvas.addEventListener('contextmenu', (event) => event.preventDefault());
  canvas.addEventListener('wheel', (event) => {
    event.preventDefault();
    // Two fingers on a touch pad that pinch are told as a wheel with Ctrl, in small numbers.
    act.zoomBy(Math.exp((event.ctrlKey ? -0.01 : -0.0014) * event.deltaY));
  }, { passive: false });

  const keys = {
    ArrowLeft: () => act.turnBy(-5, 0), ArrowRight: () => act.turnBy(5, 0),
    ArrowUp: () => act.turnBy(0, 5), ArrowDown: () => act.turnBy(0, -5),
    '+': () => act.zoomBy(1.2), '=': () => act.zoomBy(1.2), '-': () => act.zoomBy(1 / 1.2),
    Home: () => act.goBack(), n: () => act.stepStitch(1), p: () => act.stepStitch(-1),
  };
  canvas.addEventListener('keydown', (event) => {
    const press = keys[event.key];
    if (!press || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    press();
  });
}
