import { Refused, readFilm, trace } from '/modules/api.js';
import { FilmArea } from '/modules/film-area.js';
import { paintBranch, paintPin, paintWord } from '/modules/paint.js';

/**
 * @typedef {{ x: number, y: number }} Point
 * @typedef {{ name: string, pins: Point[], branch: import('/modules/api.js').TracedBranch | null }} Canal
 */

const root = /** @type {HTMLElement} */ (document.getElementById('measure'));
const film = root.dataset.film ?? '';
const marks = /** @type {HTMLInputElement} */ (document.getElementById('marks'));
const next = /** @type {HTMLElement} */ (document.getElementById('next'));
const list = /** @type {HTMLElement} */ (document.getElementById('measured'));
const wrong = /** @type {HTMLElement} */ (document.getElementById('wrong'));
const take = /** @type {HTMLButtonElement} */ (document.getElementById('take'));
const undo = /** @type {HTMLButtonElement} */ (document.getElementById('undo'));
const spacing = /** @type {HTMLInputElement} */ (document.getElementById('spacing'));
const names = /** @type {HTMLInputElement[]} */ ([...document.querySelectorAll('#names input')]);

/** @type {Canal[]} */
const canals = [];
/** @type {Point | null} */
let started = null;

const area = new FilmArea(/** @type {HTMLElement} */ (document.getElementById('film')), 'of the case', {
  mark: (at) => void mark(at),
  hold: () => null,
  remove: () => {},
  paint,
  viewed: () => {},
  key: () => false,
  say: (text) => {
    next.textContent = text;
  },
  describe: (at) => `${Math.round(at.x)}, ${Math.round(at.y)}`,
}, () => {});

undo.addEventListener('click', () => {
  if (started) {
    started = null;
  } else {
    canals.pop();
  }
  wrong.textContent = '';
  show();
});
spacing.addEventListener('change', () => void traceAll());
for (const name of names) {
  name.addEventListener('change', () => show());
}
void begin();

async function begin() {
  try {
    const shown = await readFilm(film);
    await area.load(shown);
    /** @type {HTMLElement} */ (document.getElementById('scale')).textContent = shown.scale_words;
    /** @type {HTMLElement} */ (document.getElementById('spacing-field')).hidden = shown.spacing_mm !== null;
    restore();
    await traceAll();
    document.documentElement.dataset.ready = '';
  } catch (failure) {
    refuse(failure);
  }
}

/** The marks that were taken into the table before, or sent and refused. */
function restore() {
  if (marks.value === '') {
    return;
  }
  const before = JSON.parse(marks.value);
  for (const canal of before.canals) {
    canals.push({ name: canal.name, pins: canal.trace_px.map((/** @type {[number, number]} */ [x, y]) => ({ x, y })), branch: null });
  }
  spacing.value = before.pixel_spacing_mm ?? '';
}

function chosen() {
  const free = names.filter((name) => !canals.some((canal) => canal.name === name.value));
  return free.find((name) => name.checked)?.value ?? free[0]?.value ?? null;
}

/** @param {Point} at */
async function mark(at) {
  const name = chosen();
  if (name === null) {
    return;
  }
  if (started === null) {
    started = at;
    show();
    return;
  }
  const canal = { name, pins: [started, at], branch: null };
  started = null;
  canals.push(canal);
  show();
  if (!(await traced(canal))) {
    canals.splice(canals.indexOf(canal), 1);
  }
  show();
}

async function traceAll() {
  for (const canal of canals) {
    await traced(canal);
  }
  show();
}

/**
 * @param {Canal} canal
 * @returns {Promise<boolean>} whether it was traced
 */
async function traced(canal) {
  wrong.textContent = '';
  try {
    canal.branch = (await trace(film, clicks(canal), millimetres(), new AbortController().signal)).branches[0];
    return true;
  } catch (failure) {
    refuse(failure);
    return false;
  }
}

/**
 * @param {Canal} canal
 * @returns {import('/modules/marks.js').CanalDocument}
 */
const clicks = (canal) => ({
  name: canal.name,
  trace_px: canal.pins.map(({ x, y }) => [x, y]),
  pin: 'soft',
  hard_px: null,
  after_state: null,
  branches: null,
});

function millimetres() {
  const typed = Number(spacing.value.trim().replace(',', '.'));
  return typed > 0 ? typed : null;
}

/** @param {unknown} failure */
function refuse(failure) {
  wrong.textContent = failure instanceof Refused ? `${failure.refusal.reason} ${failure.refusal.remedy}` : 'The film can’t be shown.';
}

function show() {
  const name = chosen();
  for (const radio of names) {
    radio.checked = radio.value === name;
    radio.disabled = canals.some((canal) => canal.name === radio.value);
  }
  next.textContent = name === null ? 'All canals are marked.' : started ? `Click the end of ${name}.` : `Click the orifice of ${name}.`;
  list.replaceChildren(...canals.map((canal) => {
    const item = document.createElement('li');
    const bold = document.createElement('strong');
    bold.textContent = canal.name;
    item.append(bold, ` ${canal.branch?.words ?? 'is being traced…'}`);
    for (const sign of canal.branch?.signs ?? []) {
      const said = document.createElement('div');
      said.textContent = sign;
      item.append(said);
    }
    return item;
  }));
  marks.value = canals.length === 0 ? '' : JSON.stringify({
    schema: 1,
    tooth: root.dataset.tooth,
    pixel_spacing_mm: millimetres(),
    after_spacing_mm: null,
    after_state: null,
    landmarks_px: null,
    canals: canals.map(clicks),
  });
  take.disabled = canals.length === 0 || canals.some((canal) => canal.branch === null);
  undo.disabled = canals.length === 0 && started === null;
  area.viewer.draw();
}

/**
 * @param {CanvasRenderingContext2D} context
 * @param {import('/modules/viewer.js').Viewer} viewer
 */
function paint(context, viewer) {
  const { zoom } = viewer;
  for (const canal of canals) {
    if (canal.branch) {
      paintBranch(context, zoom, canal.branch, { selected: false, stale: false });
    }
    paintPin(context, zoom, canal.pins[0], 'orifice', false);
    paintPin(context, zoom, canal.pins[canal.pins.length - 1], 'end', false);
    paintWord(context, zoom, canal.pins[0], canal.name, { bold: true });
  }
  if (started) {
    paintPin(context, zoom, started, 'orifice', true);
  }
}
