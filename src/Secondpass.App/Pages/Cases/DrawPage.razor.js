import { Refused, isOvertaken, measureDrawing, readFilm } from '/modules/api.js';
import { byId, make } from '/modules/dom.js';
import { FilmArea, originalByKey } from '/modules/film-area.js';
import { History } from '/modules/marks.js';
import { holdPoint, removePoint, stepOf } from '/modules/moving.js';
import { ink, line, paintPin, paintWord, stroke } from '/modules/paint.js';

/**
 * @typedef {import('/modules/marks.js').Point} Point
 * @typedef {import('/modules/api.js').Drawing} Drawing
 * @typedef {import('/modules/api.js').DrawnKind} DrawnKind
 * @typedef {{ kind: DrawnKind, points: Point[], number: number | null }} Drawn number: of the kept measurement that is changed
 * @typedef {{ number: number, name: string, drawing: Drawing, curve: [number, number][] }} Kept
 */

const restMilliseconds = 120;

const root = /** @type {HTMLElement} */ (byId('draw'));
const film = root.dataset.film ?? '';
const version = root.dataset.version ?? '';
/** The object of known length that the film has its scale from. @type {import('/modules/marks.js').KnownLengthDocument | null} */
const known = JSON.parse(root.dataset.known || 'null');
const kept = /** @type {Kept[]} */ (JSON.parse(root.dataset.kept ?? '[]'));
const memory = `draw-${film}`;
const form = /** @type {HTMLFormElement} */ (root.querySelector('form'));
const wrong = byId('wrong');
const figures = byId('figures');
const keep = /** @type {HTMLButtonElement} */ (byId('keep'));
const asScale = /** @type {HTMLButtonElement} */ (byId('as-scale'));
const sendScale = /** @type {HTMLButtonElement} */ (byId('send-scale'));
const undo = /** @type {HTMLButtonElement} */ (byId('undo'));
const anew = /** @type {HTMLButtonElement} */ (byId('anew'));
const spacing = /** @type {HTMLInputElement} */ (byId('spacing'));
const trueLength = /** @type {HTMLInputElement} */ (byId('true-length'));
const name = /** @type {HTMLInputElement} */ (byId('name'));
const number = /** @type {HTMLInputElement} */ (byId('number'));
const drawing = /** @type {HTMLInputElement} */ (byId('drawing'));
const kinds = /** @type {HTMLInputElement[]} */ ([...document.querySelectorAll('#kinds input')]);
const knownNames = [...document.querySelectorAll('#known-names option')].map((option) => /** @type {HTMLOptionElement} */ (option).value);

/** What is to be clicked, point by point. @type {Record<DrawnKind, string[]>} */
const asks = {
  length: ['Click one end.', 'Click the other end.'],
  angle: ['Click a point on one side.', 'Click the corner.', 'Click a point on the other side.'],
  angle_of_lines: ['Click one end of the first line.', 'Click its other end.', 'Click one end of the second line.', 'Click its other end.'],
  lesion: ['Click along the edge of the lesion.', 'Go on along its edge.', 'Go on along its edge.'],
  known_length: ['Click the tip of the instrument.', 'Click its stop.'],
};

/** @type {Record<DrawnKind, string>} */
const words = { length: 'Length', angle: 'Angle', angle_of_lines: 'Angle', lesion: 'Lesion', known_length: 'Instrument' };

/** @type {History<Drawn>} */
let history = new History(/** @type {Drawn} */ ({ kind: 'length', points: [], number: null }));
/** What was measured of the drawing as it stands; null while it isn't. @type {import('/modules/api.js').ShownDrawing | null} */
let measured = null;
/** Whether the name was proposed, not typed. */
let proposed = name.value === '';
let asked = new AbortController();
let timer = 0;

const area = new FilmArea(byId('film'), 'of the case', {
  mark: (at) => mark(at),
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
  now.number = null;
}));
document.addEventListener('keydown', (event) => {
  const step = stepOf(event);
  if (step) {
    takeBack(step);
  }
});
for (const input of [spacing, trueLength]) {
  input.addEventListener('input', () => measureSoon());
}
asScale.addEventListener('click', () => form.requestSubmit(sendScale));
trueLength.addEventListener('keydown', (event) => {
  // Beside a length it is typed for the scale only: Enter doesn't keep the length.
  if (event.key === 'Enter' && history.now.kind === 'length') {
    event.preventDefault();
    asScale.click();
  }
});
name.addEventListener('input', () => {
  proposed = name.value === '';
  show();
});
for (const kind of kinds) {
  kind.addEventListener('change', () => change((now) => {
    now.kind = /** @type {DrawnKind} */ (kind.value);
    now.points = [];
    now.number = null;
  }));
}
for (const button of /** @type {NodeListOf<HTMLButtonElement>} */ (document.querySelectorAll('[data-change]'))) {
  button.addEventListener('click', () => {
    const one = kept.find((other) => other.number === Number(button.dataset.change));
    if (one) {
      takeUp(one.drawing, one.number, one.name);
      area.canvas.focus();
      root.scrollIntoView({ block: 'nearest' });
    }
  });
}
form.addEventListener('submit', (event) => {
  const sent = event.submitter === keep || event.submitter === sendScale;
  // What is still being measured must not be remembered as if it hadn't been sent.
  window.clearTimeout(timer);
  asked.abort();
  sessionStorage.setItem(memory, JSON.stringify({ ...remembered(), sent }));
});
void begin();

async function begin() {
  try {
    await area.load(await readFilm(film));
    typeSpacing(kept.find((one) => one.drawing.pixel_spacing_mm !== null)?.drawing.pixel_spacing_mm ?? null);
    restore();
    measureSoon();
    document.documentElement.dataset.ready = '';
  } catch (failure) {
    refuse(failure);
  }
}

/** What was sent and refused; else what was drawn in this tab and not kept yet. */
function restore() {
  if (drawing.value !== '') {
    takeUp(JSON.parse(drawing.value), number.value === '' ? null : Number(number.value), name.value);
    return;
  }
  const before = JSON.parse(sessionStorage.getItem(memory) ?? 'null');
  if (before === null || (before.sent && before.version !== version)) {
    sessionStorage.removeItem(memory);
    return;
  }
  trueLength.value = before.trueLength ?? '';
  takeUp(before.drawing, kept.some((one) => one.number === before.number) ? before.number : null, before.name);
}

/**
 * A pixel size that was typed for this film before; one that has a scale by now has no field for it.
 * @param {number | null} millimetres
 */
function typeSpacing(millimetres) {
  if (!byId('spacing-field').hidden) {
    spacing.value = String(millimetres ?? spacing.value);
  }
}

const remembered = () => ({ drawing: drawingNow(), number: history.now.number, name: proposed ? '' : name.value, trueLength: trueLength.value, version });

/** @returns {Drawing} */
function drawingNow() {
  const { kind, points } = history.now;
  return {
    schema: 1,
    kind,
    points_px: points.map(({ x, y }) => [round(x), round(y)]),
    true_length_mm: kind === 'known_length' ? typed(trueLength) : null,
    pixel_spacing_mm: typed(spacing),
  };
}

/** @param {number} pixels */
const round = (pixels) => Math.round(pixels * 1000) / 1000;

/** @param {HTMLInputElement} input */
function typed(input) {
  const value = Number(input.value.trim().replace(',', '.'));
  return value > 0 ? value : null;
}

/**
 * @param {Drawing} from
 * @param {number | null} of the kept measurement that it is
 * @param {string} called
 */
function takeUp(from, of, called) {
  history.change((now) => {
    now.kind = from.kind;
    now.points = from.points_px.map(([x, y]) => ({ x, y }));
    now.number = of;
  });
  if (from.true_length_mm !== null) {
    trueLength.value = String(from.true_length_mm);
  }
  typeSpacing(from.pixel_spacing_mm);
  proposed = called === '';
  name.value = called;
  measureSoon();
}

/** @param {(now: Drawn) => void} make */
function change(make) {
  history.change(make);
  measureSoon();
}

/** @param {'undo' | 'redo'} way */
function takeBack(way) {
  history[way]();
  measureSoon();
}

const isWhole = () => history.now.points.length >= asks[history.now.kind].length;

/** @param {Point} at */
function mark(at) {
  if (isWhole() && history.now.kind !== 'lesion') {
    return;
  }
  change((now) => {
    now.points.push(at);
  });
}

/**
 * @param {Point} at
 * @param {number} reach
 */
function hold(at, reach) {
  return holdPoint(history, area.viewer, at, reach, measureSoon);
}

/**
 * @param {Point} at
 * @param {number} reach
 */
function remove(at, reach) {
  removePoint(history, at, reach, measureSoon);
}

/** Measures once the hand rests; the latest wins. */
function measureSoon() {
  window.clearTimeout(timer);
  asked.abort();
  measured = null;
  wrong.textContent = '';
  if (isWhole() && !(history.now.kind === 'known_length' && typed(trueLength) === null)) {
    timer = window.setTimeout(() => void measure(), restMilliseconds);
  }
  show();
}

async function measure() {
  asked = new AbortController();
  try {
    measured = await measureDrawing(root.dataset.case ?? '', film, drawingNow(), asked.signal);
  } catch (failure) {
    if (isOvertaken(failure)) {
      return;
    }
    refuse(failure);
  }
  show();
}

/** @param {unknown} failure */
function refuse(failure) {
  wrong.textContent = failure instanceof Refused ? `${failure.refusal.reason} ${failure.refusal.remedy}` : 'The film can’t be shown.';
}

function show() {
  const { kind, points, number: of } = history.now;
  for (const radio of kinds) {
    radio.checked = radio.value === kind;
  }
  if (proposed) {
    name.value = points.length === 0 ? '' : proposal(kind);
  }
  byId('true-field').hidden = !(kind === 'known_length' || (kind === 'length' && isWhole()));
  byId('true-of').textContent = kind === 'length' ? 'mm, where it is known' : 'mm, from the tip to the stop';
  asScale.disabled = !isWhole() || trueLength.value.trim() === '';
  byId('scale').hidden = typed(spacing) !== null;
  byId('next').textContent = nextWords();
  figures.replaceChildren(...(measured?.figures ?? []).map((figure) => make('p', {}, [figure.words, ' ', make('span', { className: 'quiet', textContent: figure.owed })])));
  number.value = of === null ? '' : String(of);
  drawing.value = points.length === 0 ? '' : JSON.stringify(drawingNow());
  keep.textContent = of === null ? 'Keep it' : 'Keep the change';
  keep.disabled = measured === null;
  undo.disabled = history.past.length === 0;
  anew.disabled = points.length === 0;
  if (points.length > 0) {
    sessionStorage.setItem(memory, JSON.stringify(remembered()));
  } else {
    sessionStorage.removeItem(memory);
  }
  area.viewer.draw();
}

/** @param {DrawnKind} kind */
function proposal(kind) {
  if (kind === 'lesion' && knownNames.length > 0) {
    return knownNames[0];
  }
  for (let count = 1; ; count++) {
    const one = `${words[kind]} ${count}`;
    if (!kept.some((other) => other.name.toLowerCase() === one.toLowerCase())) {
      return one;
    }
  }
}

function nextWords() {
  const { kind, points } = history.now;
  if (points.length < asks[kind].length) {
    return asks[kind][points.length];
  }
  if (kind === 'known_length' && typed(trueLength) === null) {
    return 'Enter its true length.';
  }
  return kind === 'lesion' ? 'Go on round it, or name it and keep it.' : 'Move its points, or name it and keep it.';
}

/**
 * @param {CanvasRenderingContext2D} context
 * @param {import('/modules/viewer.js').Viewer} viewer
 */
function paint(context, { zoom }) {
  const { kind, points, number: of } = history.now;
  if (known) {
    const [fromX, fromY, toX, toY] = known.ends_px;
    const ends = [{ x: fromX, y: fromY }, { x: toX, y: toY }];
    stroke(context, line(ends), { zoom, colour: ink.filling, width: 1.25, dash: [6, 3] });
    paintWord(context, zoom, ends[1], `scale, ${root.dataset.knownWords}`);
  }
  for (const one of kept.filter((other) => other.number !== of)) {
    const there = one.drawing.points_px.map(([x, y]) => ({ x, y }));
    stroke(context, outlineOf(one.drawing.kind, there, one.curve), { zoom, colour: ink.filling, width: 1.25 });
    paintWord(context, zoom, there[there.length - 1], one.name);
  }
  if (points.length === 0) {
    return;
  }
  stroke(context, outlineOf(kind, points, measured?.curve ?? []), { zoom, colour: ink.line, width: 2, dash: measured ? [] : [4, 3] });
  if (measured && measured.diameter.length === 2) {
    stroke(context, line(measured.diameter.map(([x, y]) => ({ x, y }))), { zoom, colour: ink.line, width: 1, dash: [2, 3] });
  }
  points.forEach((point) => paintPin(context, zoom, point, 'between', true));
  paintWord(context, zoom, points[points.length - 1], name.value, { bold: true });
}

/**
 * @param {DrawnKind} kind
 * @param {Point[]} points
 * @param {[number, number][]} curve
 */
function outlineOf(kind, points, curve) {
  if (kind === 'angle_of_lines') {
    const both = line(points.slice(0, 2));
    both.addPath(line(points.slice(2)));
    return both;
  }
  const path = line(curve.length > 0 ? curve.map(([x, y]) => ({ x, y })) : points);
  if (kind === 'lesion' && points.length > 2) {
    path.closePath();
  }
  return path;
}
