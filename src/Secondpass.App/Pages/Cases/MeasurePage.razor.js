import { Refused, readFilm, trace } from '/modules/api.js';
import { byId, make } from '/modules/dom.js';
import { FilmArea, originalByKey } from '/modules/film-area.js';
import {
  History, addPin, allBranches, findCanal, finishCanal, fromCaseDocument, isNearOrifice, nameOfNext, nearestCanal, nearestOn, nearestPin, noMarks, removeCanal,
  toCanalDocument, toCaseDocument,
} from '/modules/marks.js';
import { holdOf, stepOf } from '/modules/moving.js';
import { paintBranch, paintNames, paintPin, paintPins, paintWord } from '/modules/paint.js';

/**
 * @typedef {import('/modules/marks.js').Point} Point
 * @typedef {import('/modules/marks.js').Canal} Canal
 * @typedef {import('/modules/api.js').TracedBranch} TracedBranch
 */

const root = /** @type {HTMLElement} */ (byId('measure'));
const film = root.dataset.film ?? '';
/** The object of known length that the film has its scale from. @type {import('/modules/marks.js').KnownLengthDocument | null} */
const known = JSON.parse(root.dataset.known || 'null');
const marks = /** @type {HTMLInputElement} */ (byId('marks'));
const wrong = byId('wrong');
const take = /** @type {HTMLButtonElement} */ (byId('take'));
const undo = /** @type {HTMLButtonElement} */ (byId('undo'));
const spacing = /** @type {HTMLInputElement} */ (byId('spacing'));
const names = /** @type {HTMLInputElement[]} */ ([...document.querySelectorAll('#names input')]);

let history = new History({ ...noMarks(), tooth: root.dataset.tooth ?? '' });
/** What was traced, by the key of the trunk: the trunk and its branches. @type {Map<number, TracedBranch[]>} */
const traced = new Map();
/** The marks that each of them was traced from. @type {Map<number, string>} */
const tracedFrom = new Map();
/** Trunks that could not be traced. @type {Set<number>} */
const refused = new Set();
/** Branches of which more is shown, by name. @type {Set<string>} */
const opened = new Set();
/** The name that a person chose last. @type {string | null} */
let picked = null;
/** The canal that the next mark branches from. @type {number | null} */
let trunkOfBranch = null;
/** The canal that the next mark guides. @type {number | null} */
let guided = null;

const area = new FilmArea(byId('film'), 'of the case', {
  mark: (at, { hard, reach }) => void mark(at, hard, reach),
  hold,
  remove: removePin,
  paint,
  viewed: () => {},
  key: () => false,
  say: (text) => {
    byId('next').textContent = text;
  },
  describe: (at) => `${Math.round(at.x)}, ${Math.round(at.y)}`,
}, () => {});
originalByKey([area]);

undo.addEventListener('click', () => takeBack());
document.addEventListener('keydown', (event) => {
  const step = stepOf(event);
  if (step) {
    takeBack(step);
  } else if (event.key === 'Escape' && isWaiting()) {
    takeBack();
  }
});
spacing.addEventListener('change', () => {
  wrong.textContent = '';
  traced.clear();
  void traceAll();
});
for (const name of names) {
  name.addEventListener('change', () => {
    stopWaiting();
    picked = name.value;
    show();
  });
}
void begin();

async function begin() {
  try {
    await area.load(await readFilm(film));
    restore();
    await traceAll();
    document.documentElement.dataset.ready = '';
  } catch (failure) {
    refuse(failure);
  }
}

/** @param {'undo' | 'redo'} way */
function takeBack(way = 'undo') {
  if (!isWaiting()) {
    history[way]();
  }
  stopWaiting();
  wrong.textContent = '';
  void traceAll();
}

/** Whether a button was pressed that says what the next mark is for. */
const isWaiting = () => trunkOfBranch !== null || guided !== null;

function stopWaiting() {
  trunkOfBranch = null;
  guided = null;
}

/** The marks that were taken into the table before, or sent and refused. */
function restore() {
  if (marks.value === '') {
    return;
  }
  const before = JSON.parse(marks.value);
  history = new History(fromCaseDocument(before));
  if (!byId('spacing-field').hidden) {
    spacing.value = before.pixel_spacing_mm ?? '';
  }
}

const branches = () => allBranches(history.now.canals);

/** @param {string} name */
const isMarked = (name) => branches().some((canal) => same(canal.name, name));

/**
 * @param {string} one
 * @param {string} other
 */
const same = (one, other) => one.toLowerCase() === other.toLowerCase();

/**
 * The traced canal that a name is a branch of by the table.
 * @param {HTMLInputElement} radio
 */
const trunkOf = (radio) => branches().find((canal) => same(canal.name, radio.dataset.parent ?? '') && tracedOf(canal)) ?? null;

/** What the next mark is of: a name, and the canal that it branches from. @returns {{ name: string, trunk: Canal | null } | null} */
function chosen() {
  if (trunkOfBranch !== null) {
    const trunk = /** @type {Canal} */ (findCanal(history.now, trunkOfBranch));
    const free = names.filter((radio) => !isMarked(radio.value));
    const noted = free.find((radio) => same(radio.dataset.parent ?? '', trunk.name)) ?? free.find((radio) => !radio.hasAttribute('data-noted') && same(radio.value, `${trunk.name}2`));
    return { name: noted?.value ?? nameOfNext(history.now, trunk.key), trunk };
  }
  const free = names.filter((radio) => !isMarked(radio.value) && (!radio.dataset.parent || trunkOf(radio)));
  const radio = free.find((one) => one.value === picked) ?? free[0];
  return radio ? { name: radio.value, trunk: trunkOf(radio) } : null;
}

/**
 * @param {Point} at
 * @param {boolean} hard whether what it sets is to stay exactly there
 * @param {number} reach
 */
async function mark(at, hard, reach) {
  const { started } = history.now;
  if (started) {
    wrong.textContent = '';
    const key = history.change((now) => finishCanal(now, at, hard));
    show();
    if (!(await traceTrunk(trunkHolding(key)))) {
      history.amend((now) => {
        removeCanal(now, key);
        now.started ??= started;
      });
    }
    show();
    return;
  }
  const next = chosen();
  const guide = guided ?? (trunkOfBranch === null && !next?.trunk ? wayUnder(at, reach)?.key ?? null : null);
  if (guide !== null) {
    stopWaiting();
    history.change((now) => {
      const canal = /** @type {Canal} */ (findCanal(now, guide));
      addPin(canal, pathOf(canal), { ...at, hard });
    });
    await traceMoved(guide);
    return;
  }
  if (next === null) {
    return;
  }
  wrong.textContent = '';
  const { name, trunk } = next;
  const from = trunk ? nearestOn(pathOf(trunk), at).at : at;
  trunkOfBranch = null;
  history.change((now) => {
    now.started = { at: from, trunk: trunk?.key ?? null, name };
  });
  show();
}

/**
 * The canal whose line runs under a place, away from where other canals begin.
 * @param {Point} at
 * @param {number} reach
 */
function wayUnder(at, reach) {
  const canal = nearestCanal(history.now, pathOf, at, reach);
  return canal && !isNearOrifice(pathOf(canal), at) ? canal : null;
}

/** @param {number} key */
const trunkHolding = (key) => /** @type {Canal} */ (history.now.canals.find((trunk) => findCanal({ ...history.now, canals: [trunk] }, key)));

/** @param {Canal} canal */
const tracedOf = (canal) => [...traced.values()].flat().find((branch) => branch.name === canal.name) ?? null;

/**
 * @param {Canal} canal
 * @returns {Point[]}
 */
const pathOf = (canal) => tracedOf(canal)?.path.map(([x, y]) => ({ x, y })) ?? canal.pins;

async function traceAll() {
  for (const key of traced.keys()) {
    if (!history.now.canals.some((trunk) => trunk.key === key && allBranches([trunk]).length === traced.get(key)?.length)) {
      traced.delete(key);
    }
  }
  show();
  for (const trunk of history.now.canals.filter((canal) => !traced.has(canal.key) || tracedFrom.get(canal.key) !== marksOf(canal))) {
    await traceTrunk(trunk);
  }
  show();
}

/** @param {Canal} trunk */
const marksOf = (trunk) => JSON.stringify(toCanalDocument(trunk));

/**
 * Takes hold of a pin that lies near, or of a canal's line, which gets a pin there; the canal is traced anew where it is put down, and stays
 * as it was where that can't be done.
 * @param {Point} at
 * @param {number} reach
 */
function hold(at, reach) {
  if (history.now.started || isWaiting()) {
    return null;
  }
  const pin = nearestPin(history.now, at, reach);
  const key = pin?.key ?? wayUnder(at, reach)?.key;
  if (key === undefined) {
    return null;
  }
  let index = pin?.index ?? null;
  return holdOf(history, (now, to) => {
    const canal = /** @type {Canal} */ (findCanal(now, key));
    index ??= addPin(canal, pathOf(canal), { ...at, hard: false });
    Object.assign(canal.pins[index], to);
  }, show, (moved) => {
    if (moved) {
      void traceMoved(key);
    }
  });
}

/**
 * Removes the pin between a canal's ends that lies near.
 * @param {Point} at
 * @param {number} reach
 */
function removePin(at, reach) {
  const pin = nearestPin(history.now, at, reach);
  const pins = pin && findCanal(history.now, pin.key)?.pins;
  if (!pin || !pins || pin.index === 0 || pin.index === pins.length - 1) {
    byId('next').textContent = 'No mark between here. Ends are moved, not removed; a whole canal is removed in the list.';
    return;
  }
  history.change((now) => {
    findCanal(now, pin.key)?.pins.splice(pin.index, 1);
  });
  void traceMoved(pin.key);
}

/** @param {number} key */
async function traceMoved(key) {
  wrong.textContent = '';
  const trunk = trunkHolding(key);
  if (!(await traceTrunk(trunk))) {
    refused.delete(trunk.key);
    history.undo();
  }
  show();
}

/**
 * @param {Canal} trunk
 * @returns {Promise<boolean>} whether it was traced
 */
async function traceTrunk(trunk) {
  const from = marksOf(trunk);
  try {
    const beside = history.now.canals.filter((other) => other.key !== trunk.key && traced.has(other.key));
    const { branches: found } = await trace(film, toCanalDocument(trunk), { scale: millimetres(), known_length: known }, beside.map((other) => toCanalDocument(other)));
    for (const canal of [trunk, ...beside]) {
      const own = allBranches([canal]).map((branch) => branch.name);
      traced.set(canal.key, found.filter((branch) => own.includes(branch.name)));
    }
    tracedFrom.set(trunk.key, from);
    refused.delete(trunk.key);
    return true;
  } catch (failure) {
    refused.add(trunk.key);
    refuse(failure);
    return false;
  }
}

function millimetres() {
  const typed = Number(spacing.value.trim().replace(',', '.'));
  return typed > 0 ? typed : null;
}

/** @param {unknown} failure */
function refuse(failure) {
  wrong.textContent = failure instanceof Refused ? `${failure.refusal.reason} ${failure.refusal.remedy}` : 'The film can’t be shown.';
}

function show() {
  const { canals } = history.now;
  const next = chosen();
  for (const radio of names) {
    radio.checked = next !== null && radio.value === next.name;
    radio.disabled = isMarked(radio.value) || (Boolean(radio.dataset.parent) && trunkOf(radio) === null);
  }
  byId('next').textContent = nextWords(next);
  byId('pull').hidden = branches().length === 0;
  byId('measured').replaceChildren(...branches().map(listed));
  marks.value = canals.length === 0 ? '' : JSON.stringify({ ...toCaseDocument(history.now), pixel_spacing_mm: millimetres() });
  byId('scale').hidden = millimetres() !== null;
  take.disabled = canals.length === 0 || branches().some((canal) => !tracedOf(canal));
  undo.disabled = history.past.length === 0 && !isWaiting();
  area.viewer.draw();
}

/** @param {ReturnType<typeof chosen>} next */
function nextWords(next) {
  const { started } = history.now;
  if (started) {
    return `Click the end of ${started.name}.`;
  }
  if (guided !== null) {
    return `Click where ${findCanal(history.now, guided)?.name} runs.`;
  }
  if (next === null) {
    return 'All canals are marked.';
  }
  return next.trunk ? `Click where ${next.name} leaves ${next.trunk.name}.` : `Click the orifice of ${next.name}.`;
}

/** @param {Canal} canal */
function listed(canal) {
  const branch = tracedOf(canal);
  const divide = make('button', { type: 'button', textContent: 'Branch', disabled: branch === null, ariaLabel: `Branch of ${canal.name}` });
  divide.addEventListener('click', () => {
    stopWaiting();
    trunkOfBranch = canal.key;
    show();
    area.canvas.focus();
  });
  const guide = make('button', { type: 'button', textContent: 'Guide', disabled: branch === null, ariaLabel: `Guide ${canal.name}` });
  guide.addEventListener('click', () => {
    stopWaiting();
    guided = canal.key;
    show();
    area.canvas.focus();
  });
  const remove = make('button', { type: 'button', textContent: 'Remove', ariaLabel: `Remove ${canal.name} from this film` });
  remove.addEventListener('click', () => {
    wrong.textContent = '';
    history.change((now) => {
      removeCanal(now, canal.key);
      now.started = null;
    });
    stopWaiting();
    void traceAll();
  });
  return make('li', {}, [
    make('p', {}, [make('strong', { textContent: canal.name }), ` ${branch?.words ?? (refused.has(trunkHolding(canal.key).key) ? 'not traced' : 'is being traced…')}`]),
    ...(branch?.signs ?? []).map((sign) => make('p', { textContent: sign })),
    ...(branch ? [more(branch)] : []),
    make('div', { className: 'actions' }, [guide, divide, remove]),
  ]);
}

/**
 * All figures of a canal, and what is rarely asked of its filling; it stays open or shut when the list is made anew.
 * @param {import('/modules/api.js').TracedBranch} branch
 */
function more(branch) {
  const details = make('details', { open: opened.has(branch.name) }, [
    make('summary', { textContent: `All figures of ${branch.name}` }),
    make('dl', {}, branch.figures.flatMap(([name, value]) => [make('dt', { textContent: name }), make('dd', { textContent: value })])),
    ...branch.more.map((text) => make('p', { textContent: text })),
  ]);
  details.addEventListener('toggle', () => {
    if (details.open) opened.add(branch.name);
    else opened.delete(branch.name);
  });
  return details;
}

/**
 * @param {CanvasRenderingContext2D} context
 * @param {import('/modules/viewer.js').Viewer} viewer
 */
function paint(context, viewer) {
  const { zoom } = viewer;
  const { started } = history.now;
  for (const canal of branches()) {
    const branch = tracedOf(canal);
    if (branch) {
      paintBranch(context, zoom, branch, { selected: canal.key === trunkOfBranch, stale: false });
    }
  }
  paintPins(context, zoom, branches(), trunkOfBranch);
  paintNames(context, zoom, branches(), trunkOfBranch);
  if (started) {
    paintPin(context, zoom, started.at, 'orifice', true);
    paintWord(context, zoom, started.at, started.name ?? '', { bold: true });
  }
}
