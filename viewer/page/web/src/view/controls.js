// Turning, moving and zooming with mouse, fingers and keys; a click picks.

const CLICK = 5; // pixels a hand may shake
const TURN = 0.0062; // radians a pixel
const KEY_TURN = Math.PI / 18;
const KEY_PAN = 40; // pixels
const KEY_ZOOM = 1.2;

export class Controls {
  /** @param does {{pick(x, y), over(x, y), moved(), grab(x, y, isTouch), drag(x, y, isUp), drop(),
   *   step(right, up, isUp), goesOn()}}; grab tells whether a drag moves an item and not the
   *   camera, step whether a key has moved one, goesOn whether the arrow keys are a lesson's
   *   where the mouse has brought the focus here. */
  constructor(canvas, camera, does) {
    Object.assign(this, { canvas, camera, does });
    this.fingers = new Map();
    this.way = 0;
    this.mode = "";
    const on = (name, act, options) => canvas.addEventListener(name, act.bind(this), options);
    on("pointerdown", this.#down);
    on("pointermove", this.#move);
    on("pointerup", this.#up);
    on("pointercancel", this.#up);
    on("pointerleave", () => does.over(null));
    on("wheel", this.#wheel, { passive: false });
    on("contextmenu", (event) => event.preventDefault());
    on("keydown", this.#key);
    this.isByHand = false; // whether the mouse or a finger has brought the focus
    on("blur", () => (this.isByHand = false));
  }

  #down(event) {
    if (document.activeElement !== this.canvas) this.isByHand = true;
    this.canvas.setPointerCapture(event.pointerId);
    this.fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
    if (this.fingers.size > 1) {
      this.mode = "two";
      this.spread = this.#spread();
      return;
    }
    this.way = 0;
    const pans = event.button === 2 || event.button === 1 || event.ctrlKey || event.metaKey;
    const [x, y] = this.#at(event);
    const isTouch = event.pointerType === "touch";
    this.mode = pans ? "pan" : this.does.grab(x, y, isTouch) ? "item" : "turn";
  }

  #move(event) {
    const before = this.fingers.get(event.pointerId);
    if (!before) {
      if (event.pointerType === "mouse") this.does.over(...this.#at(event));
      return;
    }
    const right = event.clientX - before.x;
    const down = event.clientY - before.y;
    this.fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
    this.way += Math.abs(right) + Math.abs(down);
    if (this.mode === "two") this.#pinch(right / 2, down / 2);
    else if (this.way < CLICK) return;
    else if (this.mode === "item") this.does.drag(...this.#at(event), event.shiftKey);
    else if (this.mode === "pan" || event.shiftKey)
      this.camera.pan(right, down, this.canvas.clientHeight);
    else this.camera.turn(right * TURN, down * TURN);
    this.does.moved();
  }

  #up(event) {
    if (!this.fingers.delete(event.pointerId) || this.fingers.size) return;
    if (this.mode === "item") this.does.drop();
    if (this.way < CLICK && this.mode !== "two" && event.type === "pointerup") {
      this.does.pick(...this.#at(event));
    }
    this.mode = "";
  }

  #pinch(right, down) {
    const spread = this.#spread();
    this.camera.zoom(
      this.spread.far / spread.far,
      ...this.#at({ clientX: spread.x, clientY: spread.y }),
    );
    this.camera.pan(right, down, this.canvas.clientHeight);
    this.spread = spread;
  }

  #spread() {
    const [a, b] = [...this.fingers.values()];
    return { far: Math.hypot(a.x - b.x, a.y - b.y) || 1, x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  }

  #wheel(event) {
    event.preventDefault();
    const pixels = event.deltaY * (event.deltaMode === 1 ? 16 : 1);
    this.camera.zoom(Math.exp(Math.max(-200, Math.min(200, pixels)) * 0.0015), ...this.#at(event));
    this.does.moved();
  }

  #key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const { camera, canvas } = this;
    const way = { ArrowLeft: [1, 0], ArrowRight: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[
      event.key
    ];
    if (way && !way[1] && !event.shiftKey && this.isByHand && this.does.goesOn()) return;
    // Arrow keys move what is picked; where nothing is, they turn the room.
    if (way && this.does.step(-way[0], way[1], event.shiftKey)) void 0;
    else if (way && event.shiftKey) camera.pan(way[0] * KEY_PAN, way[1] * KEY_PAN, canvas.clientHeight);
    else if (way) camera.turn(-way[0] * KEY_TURN, way[1] * KEY_TURN);
    else if (event.key === "+" || event.key === "=") camera.zoom(1 / KEY_ZOOM);
    else if (event.key === "-") camera.zoom(KEY_ZOOM);
    else return;
    event.preventDefault();
    event.stopPropagation();
    this.does.moved();
  }

  /** A place of the picture, from -1 to 1, right and up. */
  #at(event) {
    const box = this.canvas.getBoundingClientRect();
    return [
      ((event.clientX - box.left) / box.width) * 2 - 1,
      1 - ((event.clientY - box.top) / box.height) * 2,
    ];
  }
}
