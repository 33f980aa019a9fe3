import { Refused, readFilm } from '/modules/api.js';
import { byId } from '/modules/dom.js';
import { FilmArea, originalByKey } from '/modules/film-area.js';
import { History } from '/modules/marks.js';
import { holdPoint, removePoint, stepOf } from '/modules/moving.js';
import { ink, line, paintPin, stroke } from '/modules/paint.js';

/** @typedef {import('/modules/marks.js').Point} Point */

const root = /** @type {HTMLElement} */ (byId('straighten'));
const film = root.dataset.film ?? '';
const memory = `straighten-${film}`;
const marks = /** @type {HTMLInputElement} */ (byId('marks'));
const size = /** @type {HTMLSelectElement} */ (byId('size'));
const keep = /** @type {HTMLButtonElement} */ (byId('keep'));
const undo = /** @type {HTMLButtonElement} */ (byId('undo'));
const anew = /** @type {HTMLButtonElement} */ (byId('anew'));

/** @type {History<{ points: Point[] }>} */
let history = new History(/** @type {{ points: Point[] }} */ ({ points: [] }));

const area = new FilmArea(byId('film'), 'of the case', {
  mark: (at) => {
    if (history.now.points.length < 4) {
      change((now) => {
        now.points.push(at);
      });
    }
  },
  hold,
  remove,
  paint,
  viewed: () => {},
  key: () => false,
  say: (text) => {
    byId('next').textContent = text;
  },
  describe: (at) => `${Math.round(at.x)}, ${Math.round(at.y)}`,
}, () => {});
originalByKey([area]);

undo.addEventListener('click', () => takeBack('undo'));
anew.addEventListener('click', () => change((now) => {
  now.points = [];
}));
size.addEventListener('change', () => show());
document.addEventListener('keydown', (event) => {
  const step = stepOf(event);
  if (step) {
    takeBack(step);
  }
});
void begin();

async function begin() {
  try {
    await area.load(await readFilm(film));
    const before = marks.value || sessionStorage.getItem(memory);
    if (before) {
      history = new History({ points: /** @type {[number, number][]} */ (JSON.parse(before)).map(([x, y]) => ({ x, y })) });
    }
    show();
    document.documentElement.dataset.ready = '';
  } catch (failure) {
    byId('wrong').textContent = failure instanceof Refused ? `${failure.refusal.reason} ${failure.refusal.remedy}` : 'The photograph can’t be shown.';
  }
}

/** @param {(now: { points: Point[] }) => void} make */
function change(make) {
  history.change(make);
  show();
}

/** @param {'undo' | 'redo'} way */
function takeBack(way) {
  history[way]();
  show();
}

/**
 * @param {Point} at
 * @param {number} reach
 */
function hold(at, reach) {
  return holdPoint(history, area.viewer, at, reach, show);
}

/**
 * @param {Point} at
 * @param {number} reach
 */
function remove(at, reach) {
  removePoint(history, at, reach, show);
}

function show() {
  const { points } = history.now;
  byId('sides').hidden = size.value !== 'other';
  byId('next').textContent = points.length < 4 ? `Mark corner ${points.length + 1} of 4.` : 'Move the corners to where the edges meet, then straighten it.';
  marks.value = points.length === 0 ? '' : JSON.stringify(points.map(({ x, y }) => [x, y].map((pixels) => Math.round(pixels * 1000) / 1000)));
  sessionStorage.setItem(memory, marks.value);
  keep.disabled = points.length !== 4;
  undo.disabled = history.past.length === 0;
  anew.disabled = points.length === 0;
  area.viewer.draw();
}

/**
 * @param {CanvasRenderingContext2D} context
 * @param {import('/modules/viewer.js').Viewer} viewer
 */
function paint(context, { zoom }) {
  const { points } = history.now;
  if (points.length > 1) {
    // In order round their middle, as the film's edges run.
    const middle = { x: points.reduce((sum, { x }) => sum + x, 0) / points.length, y: points.reduce((sum, { y }) => sum + y, 0) / points.length };
    const round = [...points].sort((one, other) => Math.atan2(one.y - middle.y, one.x - middle.x) - Math.atan2(other.y - middle.y, other.x - middle.x));
    const path = line(round);
    path.closePath();
    stroke(context, path, { zoom, colour: ink.line, width: 2, dash: points.length < 4 ? [4, 3] : [] });
  }
  points.forEach((point) => paintPin(context, zoom, point, 'between', true));
}
