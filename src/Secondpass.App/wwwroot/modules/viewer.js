/**
 * @typedef {import('./marks.js').Point} Point
 * @typedef {{ move(at: Point): void, drop(): void, cancel(): void }} Hold something that is being moved
 * @typedef {object} Handlers
 * @property {(at: Point, how: { hard: boolean, reach: number }) => void} mark a click, a tap, or Enter at the crosshair
 * @property {(at: Point, reach: number) => Hold | null} hold what lies under the pointer and can be moved
 * @property {(at: Point, reach: number) => void} remove the Delete key at the crosshair
 * @property {(context: CanvasRenderingContext2D, viewer: Viewer) => void} paint draws over the picture, in film pixels
 * @property {(viewer: Viewer) => void} viewed the view was moved by hand
 * @property {(event: KeyboardEvent) => boolean} key any other key; whether it was taken
 * @property {(text: string) => void} say words for those who can't see it
 * @property {(at: Point) => string} describe what lies at a place, in a few words
 */

const clickReach = 12;
const touchReach = 24;
const stillClick = 4;
const stillTouch = 10;
const longPress = 550;
const greatestZoom = 24;
const crosshairStep = 12;

/**
 * A film on a canvas: moved, zoomed and marked by mouse, touch and keyboard.
 * Knows nothing of canals: what is drawn over the film and what a mark means is its owner's.
 */
export class Viewer {
  /**
   * @param {HTMLCanvasElement} canvas
   * @param {Handlers} handlers
   */
  constructor(canvas, handlers) {
    this.canvas = canvas;
    this.handlers = handlers;
    this.context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d', { alpha: false }));
    /** @type {CanvasImageSource | null} */
    this.picture = null;
    this.width = 1;
    this.height = 1;
    this.zoom = 1;
    this.x = 0;
    this.y = 0;
    this.fitted = true;
    /** The canvas's size as last drawn. */
    this.seen = { width: canvas.clientWidth, height: canvas.clientHeight };
    /** The zoom of the whole film at the canvas's last size. */
    this.fitZoomBefore = 1;
    this.drawn = 0;
    this.spaceHeld = false;
    /** @type {Point | null} */
    this.crosshair = null;
    this.crosshairShown = false;
    /** @type {Hold | null} */
    this.keyHold = null;
    /** @type {Map<number, { x: number, y: number }>} */
    this.pointers = new Map();
    /** @type {{ start: { x: number, y: number }, last: { x: number, y: number }, hold: Hold | null, pan: boolean, moved: boolean, touch: boolean, timer: number } | null} */
    this.gesture = null;

    new ResizeObserver(() => this.resize()).observe(canvas);
    canvas.addEventListener('pointerdown', (event) => this.down(event));
    canvas.addEventListener('pointermove', (event) => this.move(event));
    canvas.addEventListener('pointerup', (event) => this.up(event));
    canvas.addEventListener('pointercancel', (event) => this.cancel(event));
    canvas.addEventListener('wheel', (event) => this.wheel(event), { passive: false });
    canvas.addEventListener('keydown', (event) => this.keyDown(event));
    canvas.addEventListener('keyup', (event) => {
      if (event.key === ' ') {
        this.spaceHeld = false;
      }
    });
    canvas.addEventListener('contextmenu', (event) => event.preventDefault());
    canvas.addEventListener('focus', () => {
      this.crosshairShown = canvas.matches(':focus-visible');
      this.draw();
    });
    canvas.addEventListener('blur', () => {
      this.keyHold?.cancel();
      this.keyHold = null;
      this.spaceHeld = false;
      this.crosshairShown = false;
      this.draw();
    });
  }

  /**
   * Shows a picture; the view is kept when its size is the same.
   * @param {CanvasImageSource | null} picture
   * @param {number} width
   * @param {number} height
   */
  show(picture, width, height) {
    const other = this.picture === null || width !== this.width || height !== this.height;
    this.picture = picture;
    this.width = width;
    this.height = height;
    if (other) {
      this.crosshair = { x: Math.round(width / 2), y: Math.round(height / 3) };
      this.fitZoomBefore = this.fitZoom;
      this.fit();
    }
    this.draw();
  }

  /** The zoom at which the whole film is seen. */
  get fitZoom() {
    const { clientWidth, clientHeight } = this.canvas;
    return Math.min(clientWidth / this.width, clientHeight / this.height) || 1;
  }

  fit() {
    this.zoom = this.fitZoom;
    this.x = (this.canvas.clientWidth - this.width * this.zoom) / 2;
    this.y = (this.canvas.clientHeight - this.height * this.zoom) / 2;
    this.fitted = true;
    this.draw();
  }

  /**
   * Zooms about a place of the canvas, its middle when none is given.
   * @param {number} factor
   * @param {{ x: number, y: number }} [about]
   */
  zoomBy(factor, about = { x: this.canvas.clientWidth / 2, y: this.canvas.clientHeight / 2 }) {
    const wanted = Math.min(greatestZoom, Math.max(this.fitZoom * 0.5, this.zoom * factor));
    const by = wanted / this.zoom;
    this.x = about.x - (about.x - this.x) * by;
    this.y = about.y - (about.y - this.y) * by;
    this.zoom = wanted;
    this.fitted = false;
    this.draw();
    this.handlers.viewed(this);
  }

  /**
   * @param {number} dx
   * @param {number} dy
   */
  panBy(dx, dy) {
    this.x += dx;
    this.y += dy;
    this.fitted = false;
    this.draw();
    this.handlers.viewed(this);
  }

  /** The middle of the view, as a place on the film. */
  get centre() {
    return this.toFilm({ x: this.canvas.clientWidth / 2, y: this.canvas.clientHeight / 2 });
  }

  /**
   * Takes a view over from a linked film, without telling it back.
   * @param {Point} centre
   * @param {number} zoom
   */
  look(centre, zoom) {
    this.zoom = zoom;
    this.x = this.canvas.clientWidth / 2 - (centre.x + 0.5) * zoom;
    this.y = this.canvas.clientHeight / 2 - (centre.y + 0.5) * zoom;
    this.fitted = false;
    this.draw();
  }

  /**
   * Shows a part of the film as large as it goes.
   * @param {{ left: number, top: number, right: number, bottom: number }} part
   */
  lookAt({ left, top, right, bottom }) {
    const { clientWidth, clientHeight } = this.canvas;
    const zoom = Math.min(clientWidth / (right - left), clientHeight / (bottom - top), greatestZoom);
    this.look({ x: (left + right) / 2, y: (top + bottom) / 2 }, Math.max(this.fitZoom, zoom));
  }

  /**
   * @param {{ x: number, y: number }} at on the canvas
   * @returns {Point} on the film
   */
  toFilm(at) {
    return { x: (at.x - this.x) / this.zoom - 0.5, y: (at.y - this.y) / this.zoom - 0.5 };
  }

  /**
   * @param {Point} at on the film
   * @returns {{ x: number, y: number }} on the canvas
   */
  toCanvas(at) {
    return { x: (at.x + 0.5) * this.zoom + this.x, y: (at.y + 0.5) * this.zoom + this.y };
  }

  /** Draws soon, once for all changes until then. */
  draw() {
    if (this.drawn === 0) {
      this.drawn = requestAnimationFrame(() => {
        this.drawn = 0;
        this.drawNow();
      });
    }
  }

  drawNow() {
    const { context, canvas } = this;
    const ratio = window.devicePixelRatio || 1;
    context.setTransform(1, 0, 0, 1, 0, 0);
    context.fillStyle = '#0c0b0a';
    context.fillRect(0, 0, canvas.width, canvas.height);
    if (!this.picture) {
      return;
    }
    context.setTransform(ratio * this.zoom, 0, 0, ratio * this.zoom, ratio * this.x, ratio * this.y);
    context.imageSmoothingEnabled = this.zoom * ratio < 4;
    context.imageSmoothingQuality = 'high';
    context.drawImage(this.picture, 0, 0);
    context.translate(0.5, 0.5);
    this.handlers.paint(context, this);
    if (this.crosshairShown && this.crosshair) {
      this.drawCrosshair(this.crosshair);
    }
  }

  /** @param {Point} at */
  drawCrosshair(at) {
    const { context } = this;
    const long = 18 / this.zoom;
    const gap = 5 / this.zoom;
    const path = new Path2D();
    for (const [dx, dy] of [[1, 0], [-1, 0], [0, 1], [0, -1]]) {
      path.moveTo(at.x + dx * gap, at.y + dy * gap);
      path.lineTo(at.x + dx * long, at.y + dy * long);
    }
    context.setLineDash([]);
    context.lineCap = 'butt';
    for (const [colour, width] of /** @type {[string, number][]} */ ([['#000', 5], ['#fff', 2]])) {
      context.strokeStyle = colour;
      context.lineWidth = width / this.zoom;
      context.stroke(path);
    }
  }

  resize() {
    const ratio = window.devicePixelRatio || 1;
    const { clientWidth, clientHeight } = this.canvas;
    if (clientWidth === 0 || clientHeight === 0) {
      return;
    }
    const centre = this.toFilm({ x: this.seen.width / 2, y: this.seen.height / 2 });
    const grown = this.fitZoom / this.fitZoomBefore;
    this.seen = { width: clientWidth, height: clientHeight };
    this.fitZoomBefore = this.fitZoom;
    this.canvas.width = Math.round(clientWidth * ratio);
    this.canvas.height = Math.round(clientHeight * ratio);
    if (this.fitted) {
      this.fit();
    } else {
      this.look(centre, this.zoom * grown);
    }
    this.drawNow();
  }

  /**
   * @param {{ clientX: number, clientY: number }} event
   */
  place(event) {
    const box = this.canvas.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  }

  /** @param {PointerEvent} event */
  down(event) {
    if (!this.picture) {
      return;
    }
    event.preventDefault();
    this.canvas.focus({ preventScroll: true });
    this.crosshairShown = false;
    this.canvas.setPointerCapture(event.pointerId);
    const at = this.place(event);
    this.pointers.set(event.pointerId, at);
    if (this.pointers.size > 1) {
      this.endGesture(true);
      return;
    }
    const touch = event.pointerType === 'touch';
    const pan = event.button === 1 || this.spaceHeld;
    if (event.button > 1) {
      return;
    }
    const reach = (touch ? touchReach : clickReach) / this.zoom;
    this.gesture = {
      start: at,
      last: at,
      hold: pan ? null : this.handlers.hold(this.toFilm(at), reach),
      pan,
      moved: false,
      touch,
      timer: touch && !pan ? window.setTimeout(() => this.pressed(), longPress) : 0,
    };
  }

  /** A finger stayed where it is: the touch way to a hard mark. */
  pressed() {
    const { gesture } = this;
    if (gesture && !gesture.moved) {
      this.gesture = null;
      gesture.hold?.cancel();
      this.handlers.mark(this.toFilm(gesture.start), { hard: true, reach: touchReach / this.zoom });
    }
  }

  /** @param {PointerEvent} event */
  move(event) {
    const at = this.place(event);
    const before = this.pointers.get(event.pointerId);
    if (before && this.pointers.size === 2) {
      this.pinch(event.pointerId, before, at);
      this.pointers.set(event.pointerId, at);
      return;
    }
    if (before) {
      this.pointers.set(event.pointerId, at);
    }
    const { gesture } = this;
    if (!gesture) {
      const held = this.picture && event.pointerType !== 'touch' && this.handlers.hold(this.toFilm(at), clickReach / this.zoom);
      this.canvas.style.cursor = this.spaceHeld ? 'grab' : held ? 'move' : 'crosshair';
      return;
    }
    if (!gesture.moved && Math.hypot(at.x - gesture.start.x, at.y - gesture.start.y) < (gesture.touch ? stillTouch : stillClick)) {
      return;
    }
    window.clearTimeout(gesture.timer);
    gesture.moved = true;
    if (gesture.hold) {
      gesture.hold.move(this.toFilm(at));
    } else {
      this.canvas.style.cursor = 'grabbing';
      this.panBy(at.x - gesture.last.x, at.y - gesture.last.y);
    }
    gesture.last = at;
  }

  /**
   * @param {number} id
   * @param {{ x: number, y: number }} from
   * @param {{ x: number, y: number }} to
   */
  pinch(id, from, to) {
    const other = [...this.pointers].find(([one]) => one !== id)?.[1] ?? to;
    const was = Math.hypot(from.x - other.x, from.y - other.y);
    const is = Math.hypot(to.x - other.x, to.y - other.y);
    this.panBy((to.x - from.x) / 2, (to.y - from.y) / 2);
    if (was > 0 && is > 0) {
      this.zoomBy(is / was, { x: (to.x + other.x) / 2, y: (to.y + other.y) / 2 });
    }
  }

  /** @param {PointerEvent} event */
  up(event) {
    this.pointers.delete(event.pointerId);
    const { gesture } = this;
    if (!gesture) {
      return;
    }
    const at = this.toFilm(gesture.start);
    this.endGesture(false);
    this.canvas.style.cursor = 'crosshair';
    if (!gesture.moved && !gesture.pan) {
      this.handlers.mark(at, { hard: event.shiftKey, reach: (gesture.touch ? touchReach : clickReach) / this.zoom });
    }
  }

  /** @param {PointerEvent} event */
  cancel(event) {
    this.pointers.delete(event.pointerId);
    this.endGesture(true);
  }

  /** @param {boolean} cancelled */
  endGesture(cancelled) {
    const { gesture } = this;
    this.gesture = null;
    if (gesture) {
      window.clearTimeout(gesture.timer);
      if (cancelled) {
        gesture.hold?.cancel();
      } else {
        gesture.hold?.drop();
      }
    }
  }

  /** @param {WheelEvent} event */
  wheel(event) {
    if (this.picture) {
      event.preventDefault();
      const lines = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 33 : 1;
      this.zoomBy(Math.exp(-event.deltaY * lines * 0.0015), this.place(event));
    }
  }

  /** @param {KeyboardEvent} event */
  keyDown(event) {
    if (this.takesBackHold(event)) {
      return;
    }
    if (!this.picture || !this.crosshair || event.ctrlKey || event.metaKey || event.altKey) {
      return;
    }
    const arrows = /** @type {Record<string, [number, number] | undefined>} */ ({
      ArrowLeft: [-1, 0],
      ArrowRight: [1, 0],
      ArrowUp: [0, -1],
      ArrowDown: [0, 1],
    });
    const arrow = arrows[event.key];
    const reach = clickReach / this.zoom;
    if (arrow) {
      const step = event.shiftKey ? 1 : crosshairStep / this.zoom;
      this.moveCrosshair(arrow[0] * step, arrow[1] * step);
    } else if (event.key === 'Enter') {
      this.enter(this.crosshair, event.shiftKey, reach);
    } else if (event.key.toLowerCase() === 'm') {
      this.handlers.mark(this.crosshair, { hard: event.shiftKey, reach });
    } else if (event.key === 'Delete' || event.key === 'Backspace') {
      this.handlers.remove(this.crosshair, reach);
    } else if (event.key === '+' || event.key === '=') {
      this.zoomBy(1.25, this.toCanvas(this.crosshair));
    } else if (event.key === '-') {
      this.zoomBy(0.8, this.toCanvas(this.crosshair));
    } else if (event.key === '0') {
      this.fit();
      this.handlers.viewed(this);
    } else if (event.key === ' ') {
      this.spaceHeld = true;
    } else if (!this.handlers.key(event)) {
      return;
    }
    event.preventDefault();
  }

  /**
   * Escape leaves what is held where it was, and so does undo: taken back is the move, not the step before it.
   * @param {KeyboardEvent} event
   */
  takesBackHold(event) {
    const asked = event.key === 'Escape' || ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === 'z');
    if (!asked || !(this.keyHold || this.gesture?.hold)) {
      return false;
    }
    this.keyHold?.cancel();
    this.keyHold = null;
    this.endGesture(true);
    this.handlers.say('Left where it was.');
    event.preventDefault();
    event.stopPropagation();
    return true;
  }

  /**
   * Enter picks up what lies under the crosshair, or puts down what was picked up, or marks.
   * @param {Point} at
   * @param {boolean} hard
   * @param {number} reach
   */
  enter(at, hard, reach) {
    if (this.keyHold) {
      this.keyHold.drop();
      this.keyHold = null;
      this.handlers.say('Put down.');
      return;
    }
    const hold = hard ? null : this.handlers.hold(at, reach / 2);
    if (hold) {
      this.keyHold = hold;
      this.handlers.say('Picked up. Arrow keys move it, Enter puts it down, Escape leaves it.');
      return;
    }
    this.handlers.mark(at, { hard, reach });
  }

  /**
   * @param {number} dx in film pixels
   * @param {number} dy
   */
  moveCrosshair(dx, dy) {
    const at = /** @type {Point} */ (this.crosshair);
    this.crosshairShown = true;
    this.crosshair = {
      x: Math.min(this.width - 1, Math.max(0, at.x + dx)),
      y: Math.min(this.height - 1, Math.max(0, at.y + dy)),
    };
    this.keyHold?.move(this.crosshair);
    const seen = this.toCanvas(this.crosshair);
    const margin = 24;
    const pan = {
      x: Math.max(0, margin - seen.x) - Math.max(0, seen.x - (this.canvas.clientWidth - margin)),
      y: Math.max(0, margin - seen.y) - Math.max(0, seen.y - (this.canvas.clientHeight - margin)),
    };
    if ((pan.x !== 0 || pan.y !== 0) && !this.fitted) {
      this.panBy(pan.x, pan.y);
    }
    this.draw();
    this.handlers.say(this.handlers.describe(this.crosshair));
  }
}
