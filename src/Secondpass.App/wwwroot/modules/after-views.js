import { readAligned, readResidue } from './api.js';
import { part } from './dom.js';
import { renderDifference } from './film.js';
import { outline } from './outline.js';
import { paintResidue, stroke, ink } from './paint.js';

/**
 * @typedef {import('./film-area.js').FilmArea} FilmArea
 * @typedef {'residue' | 'difference' | 'slider' | 'flicker' | 'film'} View
 * @typedef {{ aligned: import('./film.js').Grey, outlines: { left: Path2D, faint: Path2D, unclear: Path2D, filling: Path2D }, shows: { left: boolean, faint: boolean, unclear: boolean }, difference: HTMLCanvasElement, matrix: number[] }} Laid
 *   the film after in the frame of the film before
 */

const left = 2;
const unclear = 3;
const faint = 4;

/** Two changes a second at most, which no one is known to be harmed by. */
const flickerMilliseconds = 500;

/** The ways to look at the film after beside, over, or against the film before. */
export class AfterViews {
  /**
   * @param {FilmArea} before
   * @param {FilmArea} after
   * @param {(view: View) => void} changed
   */
  constructor(before, after, changed) {
    this.before = before;
    this.after = after;
    /** @type {Laid | null} */
    this.laid = null;
    /** @type {View} */
    this.view = 'residue';
    this.flickerShowsBefore = false;
    this.timer = 0;
    this.choices = /** @type {HTMLElement} */ (document.getElementById('views'));
    this.radios = /** @type {HTMLInputElement[]} */ ([...this.choices.querySelectorAll('input')]);
    this.divide = part(after.root, 'divide');
    this.divideAt = /** @type {HTMLInputElement} */ (part(after.root, 'divide-at'));
    this.divideAt.addEventListener('input', () => this.after.viewer.draw());
    this.flicker = part(after.root, 'flicker');
    this.flickerShows = part(after.root, 'flicker-shows');
    this.pause = part(after.root, 'pause');
    this.pause.addEventListener('click', () => this.togglePause());
    for (const radio of this.radios) {
      radio.addEventListener('change', () => {
        this.show(/** @type {View} */ (radio.value));
        changed(this.view);
      });
    }
  }

  /**
   * Loads a comparison's pictures.
   * @param {import('./api.js').ShownComparison} comparison
   */
  async load(comparison) {
    const film = this.before.film;
    if (!film) {
      return;
    }
    const { width, height, greatest } = film.grey;
    const [pixels, residue] = await Promise.all([readAligned(comparison.id), readResidue(comparison.id)]);
    const aligned = { width, height, greatest: Math.max(greatest, maximum(pixels)), pixels };
    this.laid = {
      aligned,
      outlines: {
        left: outline(width, height, (index) => residue[index] === left),
        faint: outline(width, height, (index) => residue[index] === faint),
        unclear: outline(width, height, (index) => residue[index] === unclear),
        filling: outline(width, height, (index) => residue[index] !== 0),
      },
      shows: { left: residue.includes(left), faint: residue.includes(faint), unclear: residue.includes(unclear) },
      difference: renderDifference(film.grey, aligned),
      matrix: comparison.document.registration.matrix,
    };
    this.choices.hidden = false;
    this.after.root.classList.add('compared');
    this.show(this.view);
  }

  clear() {
    this.laid = null;
    this.choices.hidden = true;
    this.stop();
    this.divide.hidden = true;
    this.flicker.hidden = true;
    this.after.root.classList.remove('compared');
    this.after.showInstead(null);
  }

  /** Whether the film after is shown in the frame of the film before. */
  get inFrameOfBefore() {
    return this.laid !== null && !this.after.showsOwnFilm;
  }

  /** @param {View} view */
  show(view) {
    const { laid } = this;
    this.view = view;
    for (const radio of this.radios) {
      radio.checked = radio.value === view;
    }
    this.stop();
    if (!laid || !this.before.film) {
      return;
    }
    const picture = { grey: laid.aligned, first: this.before.film.first };
    this.divide.hidden = view !== 'slider';
    this.flicker.hidden = view !== 'flicker';
    if (view === 'film') {
      this.after.showInstead(null);
    } else if (view === 'difference') {
      this.after.showInstead(null, laid.difference);
    } else {
      this.after.showInstead(picture);
    }
    if (view === 'flicker') {
      this.flickerShowsBefore = false;
      if (!window.matchMedia('(prefers-reduced-motion: reduce)').matches) {
        this.start();
      }
      this.namePause();
    }
  }

  togglePause() {
    if (window.matchMedia('(prefers-reduced-motion: reduce)').matches) {
      this.turn();
    } else if (this.timer) {
      this.stop();
    } else {
      this.start();
    }
    this.namePause();
  }

  namePause() {
    const still = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
    this.pause.textContent = still ? 'Show the other film' : this.timer ? 'Pause' : 'Go on';
    this.nameShown();
  }

  start() {
    this.timer = window.setInterval(() => this.turn(), flickerMilliseconds);
  }

  stop() {
    window.clearInterval(this.timer);
    this.timer = 0;
    this.flickerShowsBefore = false;
  }

  nameShown() {
    this.flickerShows.textContent = this.flickerShowsBefore ? 'Film before' : 'Film after';
  }

  turn() {
    this.flickerShowsBefore = !this.flickerShowsBefore;
    this.nameShown();
    this.after.viewer.draw();
  }

  /**
   * The line between the two films, where it lies under the pointer.
   * @param {import('./marks.js').Point} at on the film
   * @returns {import('./viewer.js').Hold | null}
   */
  holdDivide(at) {
    const { viewer } = this.after;
    const width = viewer.canvas.clientWidth;
    if (!this.laid || this.view !== 'slider' || Math.abs(viewer.toCanvas(at).x - (width * Number(this.divideAt.value)) / 100) > 22) {
      return null;
    }
    const from = this.divideAt.value;
    const put = (/** @type {string} */ value) => {
      this.divideAt.value = value;
      viewer.draw();
    };
    return {
      move: (to) => put(String((100 * viewer.toCanvas(to).x) / width)),
      drop: () => {},
      cancel: () => put(from),
    };
  }

  /**
   * Draws over the film after, in film pixels.
   * @param {CanvasRenderingContext2D} context
   * @param {import('./viewer.js').Viewer} viewer
   */
  paint(context, viewer) {
    const { laid } = this;
    if (!laid || this.view === 'film') {
      return;
    }
    if (this.view === 'residue') {
      paintResidue(context, viewer, laid.outlines);
    } else if (this.view === 'difference') {
      stroke(context, laid.outlines.filling, { zoom: viewer.zoom, colour: ink.filling, width: 1, dash: [5, 4] });
    } else if (this.view === 'flicker' && this.flickerShowsBefore) {
      context.drawImage(this.before.rendered, -0.5, -0.5);
    } else if (this.view === 'slider') {
      this.paintDivided(context, viewer);
    }
  }

  /**
   * @param {CanvasRenderingContext2D} context
   * @param {import('./viewer.js').Viewer} viewer
   */
  paintDivided(context, viewer) {
    const { clientWidth, clientHeight } = viewer.canvas;
    const at = (clientWidth * Number(this.divideAt.value)) / 100;
    const top = viewer.toFilm({ x: at, y: 0 });
    const bottom = viewer.toFilm({ x: at, y: clientHeight });
    const corner = viewer.toFilm({ x: 0, y: 0 });
    context.save();
    context.beginPath();
    context.rect(corner.x, corner.y, top.x - corner.x, bottom.y - top.y);
    context.clip();
    context.drawImage(this.before.rendered, -0.5, -0.5);
    context.restore();
    const edge = new Path2D();
    edge.moveTo(top.x, top.y);
    edge.lineTo(bottom.x, bottom.y);
    stroke(context, edge, { zoom: viewer.zoom, colour: ink.line, width: 2 });
  }
}

/** @param {Uint16Array} pixels */
function maximum(pixels) {
  let most = 0;
  for (const value of pixels) {
    most = Math.max(most, value);
  }
  return most;
}
