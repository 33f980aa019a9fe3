import * as api from '/modules/api.js';
import { AfterViews } from '/modules/after-views.js';
import { showCanals } from '/modules/canal-list.js';
import { byId, make, setText } from '/modules/dom.js';
import { FilmArea, originalByKey } from '/modules/film-area.js';
import { readTab, writeTab } from '/modules/local.js';
import {
  History, addPin, allBranches, asScale, findCanal, finishCanal, fromCaseDocument, halfOfLastDigit, isNearOrifice, nameOfNext, nearestCanal, nearestOn, nearestPin, noMarks,
  removeCanal, round, scaleOf, setTooth, toCanalDocument, toCaseDocument,
} from '/modules/marks.js';
import { holdOf, stepOf } from '/modules/moving.js';
import { canalNames, quadrants, toothInWords } from '/modules/names.js';
import { line, paintBranch, paintLandmark, paintNames, paintNew, paintPin, paintPins, paintWord, stroke, ink } from '/modules/paint.js';
import { showResult } from '/modules/result-view.js';

/**
 * @typedef {import('/modules/marks.js').Point} Point
 * @typedef {import('/modules/marks.js').Canal} Canal
 * @typedef {import('/modules/viewer.js').Hold} Hold
 * @typedef {'before' | 'after'} Side
 * @typedef {{ asked: string, newest: Canal, waiting: boolean, branches: api.TracedBranch[], refusal: api.Refusal | null }} Traced
 */

/** The case whose films are compared; empty for none. */
const caseId = byId('bench').dataset.case ?? '';
const address = caseId ? `/what-is-left?case=${caseId}` : '/what-is-left';

const tabKey = 'what-is-left';
const traceDelay = 40;
const compareAgainDelay = 400;

/** What the workbench takes a scale from, and which scale; it refuses anything else itself. @type {Record<string, number>} */
const limits = Object.fromEntries(Object.entries(byId('calibration').dataset).map(([name, value]) => [name, Number(value)]));

/** The share of a canal's length, from its orifice, in which a click starts the next canal. */

/** What is seen in each view of the film after; more is said of residue by what there is. @type {Record<import('/modules/after-views.js').View, string>} */
const viewMeans = {
  residue: 'The film after, laid over the film before. The broken line is the filling before.',
  difference: 'Dark is less dense than before, light is denser, mid grey is no change. The broken line is the filling before.',
  slider: 'Left of the line is the film before, right of it the film after, laid over it. Drag the line.',
  flicker: 'Both films in turn, laid over each other, twice a second at most.',
  film: 'The film after as it came, not laid over the film before.',
};

/** What stands over a reason, by what was refused. */
const refusalTitles = { film: 'Not taken in', trace: 'Not traced', compare: 'No result', other: 'Not done' };

/** @type {Record<string, string>} */
const stateWords = {
  removed: 'filling out',
  instrument_in: 'instrument in',
  dressing: 'dressing',
  refilled: 'filled again',
};

let history = new History(noMarks());

/** The canal whose pins are shown. @type {number | null} */
let selected = null;

/** What a click on the film before means besides marking canals. @type {'canals' | 'branch' | 'calibrate' | 'landmarks'} */
let mode = 'canals';

/** The canal that a branch is to leave. @type {number | null} */
let trunkOfBranch = null;

/** Both ends of something of known length. @type {Point[]} */
let calibration = [];

/** What was traced of each canal, by the key of its trunk. @type {Map<number, Traced>} */
const traced = new Map();

/** @type {api.ShownComparison | null} */
let result = null;

/** What the result was computed from. */
let resultOf = '';

/** What was last asked to compare, so that it is not asked again by itself after a refusal. */
let comparedLast = '';

/** @type {AbortController | null} */
let comparing = null;
let compareTimer = 0;
let busyTimer = 0;
let receiving = 0;

/** @type {{ id: string, label: string } | null} */
let kept = null;

/** Whether the state of the film after is asked again. */
let askingState = false;

/** @type {{ refusal: api.Refusal, of: 'film' | 'trace' | 'compare' | 'other' } | null} */
let refused = null;

const before = new FilmArea(byId('before'), 'before', {
  mark: markBefore,
  hold: holdBefore,
  remove: removeBefore,
  paint: paintBefore,
  viewed: (viewer) => link(viewer, after.viewer),
  key: () => false,
  say,
  describe: describeBefore,
}, (files) => void receive(files, 'before'));

const after = new FilmArea(byId('after'), 'after', {
  mark: markAfter,
  hold: holdAfter,
  remove: () => {},
  paint: paintAfter,
  viewed: (viewer) => link(viewer, before.viewer),
  key: () => false,
  say,
  describe: (at) => place(at),
}, (files) => void receive(files, 'after'));

const areas = { before, after };
const views = new AfterViews(before, after, () => {
  link(before.viewer, after.viewer);
  update();
});
const linked = byId('linked');

// ---------------------------------------------------------------- films

/**
 * Takes files in: the first as film before, the second as film after, or where they were dropped.
 * @param {File[]} files
 * @param {Side | null} side
 */
async function receive(files, side) {
  const first = side ?? (before.film && !after.film ? 'after' : before.film && after.film && files.length === 1 ? 'after' : 'before');
  /** @type {[Side, File][]} */
  const wanted = files.slice(0, 2).map((file, index) => [index === 0 ? first : first === 'before' ? 'after' : 'before', file]);
  if (wanted.length === 0) {
    return;
  }
  refuse(null);
  receiving++;
  update();
  /** @type {[File, api.Refusal][]} */
  const bad = [];
  try {
    // A file that is no film takes none of the others with it.
    for (const [at, file] of wanted) {
      try {
        await put(at, await api.receiveFilm(file));
      } catch (failure) {
        if (!(failure instanceof api.Refused)) {
          throw failure;
        }
        bad.push([file, failure.refusal]);
      }
    }
    if (files.length > 2) {
      say(`${files.length} files were given; the first two are used.`);
    }
  } finally {
    receiving--;
    refuse(bad.length === 0 ? null : { of: 'film', refusal: filesRefused(bad) });
  }
}

/**
 * Why files were not taken in, each by its name.
 * @param {[File, api.Refusal][]} bad at least one
 * @returns {api.Refusal}
 */
function filesRefused(bad) {
  return {
    code: bad[0][1].code,
    reason: bad.map(([file, { reason }]) => (file.name ? `${file.name}: ${reason}` : reason)).join(' '),
    remedy: [...new Set(bad.map(([, { remedy }]) => remedy))].join(' '),
  };
}

/**
 * @param {Side} side
 * @param {api.ShownFilm} shown
 */
async function put(side, shown) {
  const area = areas[side];
  const old = area.film?.shown.id;
  if (old === shown.id) {
    return;
  }
  await area.load(shown);
  letGoOf([old]);
  forgetResult();
  if (old) {
    history.change((marks) => {
      marks.landmarks = [];
      marks.startedLandmark = null;
      marks.state = null;
      if (side === 'before') {
        marks.canals = [];
        marks.started = null;
        marks.scale = null;
      }
    });
    traced.clear();
  }
  changed();
}

/**
 * Lets go of films that other films took the place of.
 * @param {(string | undefined)[]} replaced
 */
function letGoOf(replaced) {
  for (const id of new Set(replaced)) {
    if (id && id !== before.film?.shown.id && id !== after.film?.shown.id) {
      api.letGo(id);
    }
  }
}

function swap() {
  const was = { before: before.film, after: after.film };
  before.take(was.after);
  after.take(was.before);
  forgetResult();
  traced.clear();
  history.change((marks) => Object.assign(marks, { ...noMarks(), tooth: marks.tooth }));
  changed();
}

/** Forgets films, marks and result; the films are removed unless something kept needs them or another page shows them. */
async function startOver() {
  const films = [before.film?.shown.id, after.film?.shown.id];
  const open = result && !kept ? result.id : null;
  forgetResult();
  before.take(null);
  after.take(null);
  history = new History(noMarks());
  traced.clear();
  selected = null;
  setMode('canals');
  writeTab(tabKey, null);
  window.history.replaceState(null, '', address);
  refuse(null);
  update();
  try {
    if (open) {
      await api.throwComparisonAway(open);
    }
    await Promise.all(films.map((id) => (id ? api.throwFilmAway(id) : null)));
  } catch (failure) {
    fail(failure, 'other');
  }
}

/** @param {api.Reopened} reopened */
async function open(reopened) {
  receiving++;
  update();
  try {
    const replaced = [before.film?.shown.id, after.film?.shown.id];
    const [one, other] = await Promise.all([reopened.before, reopened.after].map((id) => (id ? api.readFilm(id) : null)));
    forgetResult();
    traced.clear();
    if (one) {
      await before.load(one);
    }
    if (other) {
      await after.load(other);
    }
    letGoOf(replaced);
    history = new History(fromCaseDocument(reopened.case));
    selected = null;
    changed();
  } catch (failure) {
    fail(failure, 'film');
  } finally {
    receiving--;
    update();
  }
}

// ---------------------------------------------------------------- marks on the film before

/**
 * @param {Point} at
 * @param {{ hard: boolean, reach: number }} how
 */
function markBefore(at, { hard, reach }) {
  if (!before.film || !onFilm(before, at)) {
    return;
  }
  if (!before.showsOwnFilm) {
    return;
  }
  if (mode === 'calibrate') {
    calibration = [...calibration.slice(-1), at];
    showCalibration();
    before.viewer.draw();
    return;
  }
  if (mode === 'landmarks') {
    history.change((marks) => {
      marks.startedLandmark = at;
    });
    changed();
    return;
  }
  if (mode === 'branch' && trunkOfBranch !== null) {
    const path = pathOf(trunkOfBranch);
    const from = nearestOn(path, at).at;
    const trunk = trunkOfBranch;
    setMode('canals');
    history.change((marks) => {
      marks.started = { at: from, trunk };
    });
    changed();
    return;
  }
  if (history.now.started) {
    const key = history.change((marks) => finishCanal(marks, at, hard));
    selected = key;
    changed();
    return;
  }
  const pin = nearestPin(history.now, at, reach / 2);
  if (pin && pin.index > 0) {
    select(pin.key);
    return;
  }
  const near = nearestPath(at, reach);
  if (near !== null && !isNearOrifice(pathOf(near), at)) {
    const path = pathOf(near);
    history.change((marks) => {
      const canal = findCanal(marks, near);
      if (canal) {
        addPin(canal, path, { ...at, hard });
      }
    });
    selected = near;
    changed();
    return;
  }
  history.change((marks) => {
    marks.started = { at, trunk: null };
  });
  changed();
}

/**
 * @param {Point} at
 * @param {number} reach
 * @returns {Hold | null}
 */
function holdBefore(at, reach) {
  if (!before.showsOwnFilm || mode === 'calibrate') {
    return null;
  }
  const landmark = nearestLandmark('before', at, reach);
  if (landmark !== null) {
    return moved((marks, to) => {
      marks.landmarks[landmark].before = to;
    });
  }
  const pin = nearestPin(history.now, at, reach);
  if (pin) {
    selected = pin.key;
    return moved((marks, to) => {
      const held = findCanal(marks, pin.key)?.pins[pin.index];
      if (held) {
        Object.assign(held, to);
      }
    });
  }
  const near = mode === 'canals' && !history.now.started ? nearestPath(at, reach) : null;
  if (near === null) {
    return null;
  }
  const path = pathOf(near);
  let index = -1;
  return moved((marks, to) => {
    const canal = findCanal(marks, near);
    if (canal && index < 0) {
      index = addPin(canal, path, { ...at, hard: false });
    }
    const held = canal?.pins[index];
    if (held) {
      Object.assign(held, to);
    }
  });
}

/** @param {(marks: import('/modules/marks.js').Marks, to: Point) => void} put */
const moved = (put) => holdOf(history, put, changed, update);

/**
 * @param {Point} at
 * @param {number} reach
 */
function removeBefore(at, reach) {
  const pin = nearestPin(history.now, at, reach);
  const canal = pin && findCanal(history.now, pin.key);
  if (pin && canal && pin.index > 0 && pin.index < canal.pins.length - 1) {
    removePin(pin.key, pin.index);
    say('Pin removed.');
  } else if (history.now.started) {
    history.change((marks) => {
      marks.started = null;
    });
    changed();
  } else {
    say('No pin here. Ends are moved, not removed; a whole canal is removed in the list.');
  }
}

/**
 * @param {number} key
 * @param {number} index
 */
function removePin(key, index) {
  history.change((marks) => void findCanal(marks, key)?.pins.splice(index, 1));
  changed();
}

/**
 * @param {Point} at
 * @param {number} reach
 * @returns {number | null} the canal's key
 */
const nearestPath = (at, reach) => nearestCanal(history.now, (canal) => pathOf(canal.key), at, reach)?.key ?? null;

/**
 * The traced path of a canal, or straight lines between its marks until it is traced.
 * @param {number} key
 * @returns {Point[]}
 */
function pathOf(key) {
  const canal = findCanal(history.now, key);
  const branch = canal && tracedOf(canal.name);
  return branch ? branch.path.map(([x, y]) => ({ x, y })) : canal?.pins ?? [];
}

/** @param {string} name */
function tracedOf(name) {
  for (const { branches } of traced.values()) {
    const found = branches.find((branch) => branch.name === name);
    if (found) {
      return found;
    }
  }
  return undefined;
}

/**
 * What is said of a canal in the list, or null while it is being traced.
 * @param {string} name
 * @returns {{ words: string, signs: string[] } | null}
 */
function wordsOf(name) {
  const trunk = history.now.canals.find((canal) => allBranches([canal]).some((one) => one.name === name));
  const refusal = trunk && traced.get(trunk.key)?.refusal;
  return tracedOf(name) ?? (refusal ? { words: 'not traced', signs: [refusal.reason] } : null);
}

/** @param {number} key */
function select(key) {
  if (selected !== key) {
    selected = key;
    update();
  }
}

// ---------------------------------------------------------------- marks on the film after

/** @param {Point} at */
function markAfter(at) {
  if (!after.film || !onFilm(after, at)) {
    return;
  }
  if (mode === 'landmarks' && history.now.startedLandmark && after.showsOwnFilm) {
    history.change((marks) => {
      if (marks.startedLandmark) {
        marks.landmarks.push({ before: marks.startedLandmark, after: at });
        marks.startedLandmark = null;
      }
    });
    changed();
  } else if (mode === 'landmarks') {
    say('Mark it on the film before first.');
    flash('Mark the point on the film before first.');
  } else {
    flash('Canals are marked on the film before.');
  }
}

/**
 * @param {Point} at
 * @param {number} reach
 */
function holdAfter(at, reach) {
  const divide = views.holdDivide(at);
  if (divide) {
    return divide;
  }
  const landmark = after.showsOwnFilm ? nearestLandmark('after', at, reach) : null;
  return landmark === null ? null : moved((marks, to) => {
    marks.landmarks[landmark].after = to;
  });
}

/**
 * @param {Side} side
 * @param {Point} at
 * @param {number} reach
 */
function nearestLandmark(side, at, reach) {
  const index = history.now.landmarks.findIndex((landmark) => Math.hypot(landmark[side].x - at.x, landmark[side].y - at.y) <= reach);
  return index < 0 ? null : index;
}

// ---------------------------------------------------------------- drawing

/**
 * @param {CanvasRenderingContext2D} context
 * @param {import('/modules/viewer.js').Viewer} viewer
 */
function paintBefore(context, viewer) {
  const { zoom } = viewer;
  const marks = history.now;
  for (const trunk of marks.canals) {
    const stale = traced.get(trunk.key)?.asked !== traceKey(trunk);
    for (const canal of allBranches([trunk])) {
      const branch = tracedOf(canal.name);
      if (branch) {
        paintBranch(context, zoom, branch, { selected: canal.key === selected, stale });
      } else {
        stroke(context, line(canal.pins), { zoom, colour: ink.line, width: 1, dash: [2, 4] });
      }
    }
  }
  paintPins(context, zoom, allBranches(marks.canals), selected);
  paintNames(context, zoom, allBranches(marks.canals), selected);
  if (marks.started) {
    paintPin(context, zoom, marks.started.at, 'orifice', true);
    paintWord(context, zoom, marks.started.at, nameOfNext(marks, marks.started.trunk), { bold: true });
  }
  marks.landmarks.forEach((landmark, index) => paintLandmark(context, zoom, landmark.before, String(index + 1)));
  if (marks.startedLandmark) {
    paintLandmark(context, zoom, marks.startedLandmark, String(marks.landmarks.length + 1));
  }
  if (mode === 'calibrate') {
    stroke(context, line(calibration), { zoom, colour: ink.line, width: 1.5, dash: [6, 3] });
    for (const at of calibration) {
      paintPin(context, zoom, at, 'end', true);
    }
  }
}

/**
 * @param {CanvasRenderingContext2D} context
 * @param {import('/modules/viewer.js').Viewer} viewer
 */
function paintAfter(context, viewer) {
  if (after.showsOwnFilm) {
    history.now.landmarks.forEach((landmark, index) => paintLandmark(context, viewer.zoom, landmark.after, String(index + 1)));
  }
  views.paint(context, viewer);
  if (views.inFrameOfBefore && (views.view === 'residue' || views.view === 'difference')) {
    paintNames(context, viewer.zoom, allBranches(history.now.canals), selected);
    for (const { at_px: [x, y] } of result?.document.moved ?? []) {
      paintNew(context, viewer.zoom, { x, y });
    }
  }
}

/**
 * Takes the view of one film over to the other.
 * @param {import('/modules/viewer.js').Viewer} from
 * @param {import('/modules/viewer.js').Viewer} to
 */
function link(from, to) {
  if (linked.ariaPressed !== 'true' || !before.film || !after.film) {
    return;
  }
  const back = from === after.viewer;
  const matrix = views.laid?.matrix;
  if (from.fitted) {
    to.fit();
  } else if (views.inFrameOfBefore) {
    to.look(from.centre, from.zoom * (to.fitZoom / from.fitZoom));
  } else if (matrix) {
    const grows = Math.sqrt(Math.abs(matrix[0] * matrix[4] - matrix[1] * matrix[3]));
    to.look(through(back ? matrix : inverse(matrix), from.centre), back ? from.zoom / grows : from.zoom * grows);
  } else {
    const centre = { x: (from.centre.x / from.width) * to.width, y: (from.centre.y / from.height) * to.height };
    to.look(centre, to.fitZoom * (from.zoom / from.fitZoom));
  }
}

/**
 * @param {number[]} m
 * @param {Point} at
 */
function through(m, { x, y }) {
  const w = m[6] * x + m[7] * y + m[8];
  return { x: (m[0] * x + m[1] * y + m[2]) / w, y: (m[3] * x + m[4] * y + m[5]) / w };
}

/** @param {number[]} m */
function inverse([a, b, c, d, e, f, g, h, i]) {
  return [e * i - f * h, c * h - b * i, b * f - c * e, f * g - d * i, a * i - c * g, c * d - a * f, d * h - e * g, b * g - a * h, a * e - b * d];
}

// ---------------------------------------------------------------- asking the workbench

/** After every change of the marks: trace, compare again where there was a result, write it all down. */
function changed() {
  if (refused?.of !== 'film') {
    refused = null;
  }
  const keys = new Set(history.now.canals.map((canal) => canal.key));
  for (const key of [...traced.keys()]) {
    if (!keys.has(key)) {
      traced.delete(key);
    }
  }
  for (const trunk of history.now.canals) {
    traceSoon(trunk);
  }
  if (selected !== null && !findCanal(history.now, selected)) {
    selected = null;
  }
  if (result && asked() !== resultOf) {
    window.clearTimeout(compareTimer);
    compareTimer = window.setTimeout(() => {
      if (canCompare() && asked() !== resultOf && asked() !== comparedLast) {
        void compare();
      }
    }, compareAgainDelay);
  }
  remember();
  update();
}

/** @param {Canal} trunk */
function traceKey(trunk) {
  return JSON.stringify([before.film?.shown.id, asScale(history.now.scale), withoutState(toCanalDocument(trunk))]);
}

/**
 * @param {import('/modules/marks.js').CanalDocument} canal
 * @returns {import('/modules/marks.js').CanalDocument}
 */
function withoutState(canal) {
  return { ...canal, after_state: null, branches: canal.branches?.map(withoutState) ?? null };
}

/**
 * Traces a canal as it is marked now. One answer at a time is waited for and shown, so that the path follows a mark that is being dragged
 * however long answers take; the newest marks are asked for after it.
 * @param {Canal} trunk
 */
function traceSoon(trunk) {
  const one = traced.get(trunk.key) ?? { asked: '', newest: trunk, waiting: false, branches: [], refusal: null };
  traced.set(trunk.key, one);
  one.newest = trunk;
  if (!one.waiting && before.film && one.asked !== traceKey(trunk)) {
    one.waiting = true;
    window.setTimeout(() => void traceNewest(one), traceDelay);
  }
}

/** @param {Traced} one */
async function traceNewest(one) {
  const trunk = one.newest;
  const key = traceKey(trunk);
  const isWanted = () => traced.get(trunk.key) === one;
  if (!before.film || !isWanted()) {
    one.waiting = false;
    return;
  }
  try {
    const { branches } = await api.trace(before.film.shown.id, withoutState(toCanalDocument(trunk)), asScale(history.now.scale));
    if (isWanted()) {
      Object.assign(one, { asked: key, branches, refusal: null });
      if (refused?.of === 'trace') {
        refused = null;
      }
    }
  } catch (failure) {
    if (isWanted() && traceKey(one.newest) === key) {
      Object.assign(one, { asked: key, branches: [], refusal: failure instanceof api.Refused ? failure.refusal : null });
      fail(failure, 'trace');
    }
  }
  one.waiting = false;
  if (isWanted()) {
    traceSoon(one.newest);
    update();
  }
}

/** What a comparison is computed from, as a text that tells whether something changed. */
function asked() {
  return JSON.stringify([before.film?.shown.id, after.film?.shown.id, toCaseDocument(history.now)]);
}

function canCompare() {
  return before.film !== null && after.film !== null && history.now.state !== null && history.now.canals.length > 0;
}

async function compare() {
  if (!before.film || !after.film) {
    return;
  }
  const question = asked();
  const hadFocus = document.activeElement === byId('compare');
  comparedLast = question;
  comparing?.abort();
  const stop = new AbortController();
  comparing = stop;
  window.clearTimeout(busyTimer);
  busyTimer = window.setTimeout(update, 150);
  refused = null;
  update();
  try {
    const answer = await api.compare(before.film.shown.id, after.film.shown.id, toCaseDocument(history.now), caseId, stop.signal);
    if (stop.signal.aborted) {
      return;
    }
    await views.load(answer);
    const first = result === null;
    result = answer;
    resultOf = question;
    kept = null;
    showResult(answer);
    setMode('canals');
    if (first && before.viewer.fitted) {
      before.viewer.lookAt(aroundCanals());
    }
    link(before.viewer, after.viewer);
    const label = /** @type {HTMLInputElement} */ (byId('label'));
    label.value = suggestedLabel();
  } catch (failure) {
    if (!stop.signal.aborted) {
      fail(failure, 'compare');
    }
  } finally {
    if (comparing === stop) {
      comparing = null;
    }
    window.clearTimeout(busyTimer);
    update();
    if (hadFocus && result && !refused) {
      byId('result-title').focus({ preventScroll: true });
      /** @type {HTMLElement} */ (byId('result').parentElement).scrollTop = 0;
    }
  }
}

/** The part of the film before that holds all canals, with room around them. */
function aroundCanals() {
  const points = allBranches(history.now.canals).flatMap((canal) => [...canal.pins, ...pathOf(canal.key)]);
  const xs = points.map(({ x }) => x);
  const ys = points.map(({ y }) => y);
  const height = Math.max(...ys) - Math.min(...ys);
  const room = Math.max(30, height * 0.18);
  return { left: Math.min(...xs) - room, right: Math.max(...xs) + room, top: Math.min(...ys) - room, bottom: Math.max(...ys) + room };
}

function suggestedLabel() {
  const when = new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium' }).format(new Date());
  const tooth = toothInWords(history.now.tooth) || 'two films';
  return `${tooth[0].toUpperCase()}${tooth.slice(1)}, ${when}`;
}

function forgetResult() {
  comparing?.abort();
  comparing = null;
  window.clearTimeout(compareTimer);
  result = null;
  resultOf = '';
  comparedLast = '';
  kept = null;
  views.clear();
}

/**
 * @param {unknown} failure
 * @param {'film' | 'trace' | 'compare' | 'other'} of
 */
function fail(failure, of) {
  if (failure instanceof api.Refused) {
    refused = { refusal: failure.refusal, of };
    update();
  } else if (!api.isOvertaken(failure)) {
    throw failure;
  }
}

/** @param {{ refusal: api.Refusal, of: 'film' | 'trace' | 'compare' | 'other' } | null} next */
function refuse(next) {
  refused = next;
  update();
}

/** Keeps what was entered in this tab, so that a reload loses nothing. */
function remember() {
  if (before.film || after.film) {
    writeTab(tabKey, { case: caseId, before: before.film?.shown.id ?? null, after: after.film?.shown.id ?? null, marks: history.now });
  }
}

async function restore() {
  const keptId = new URLSearchParams(location.search).get('kept');
  if (keptId) {
    try {
      await open(await api.openKept(keptId));
      window.history.replaceState(null, '', address);
      return;
    } catch (failure) {
      fail(failure, 'other');
      return;
    }
  }
  const tab = /** @type {{ case?: string, before: string | null, after: string | null, marks: import('/modules/marks.js').Marks } | null} */ (readTab(tabKey));

  // What this tab remembers of another patient's films never comes up beside this case.
  if ((tab?.case ?? '') !== caseId || (caseId && !tab)) {
    if (caseId) {
      try {
        await open(await api.openCase(caseId));
      } catch (failure) {
        fail(failure, 'other');
      }
    }
    return;
  }
  if (!tab) {
    return;
  }
  receiving++;
  update();
  try {
    if (tab.before) {
      await before.load(await api.readFilm(tab.before));
    }
    if (tab.after) {
      await after.load(await api.readFilm(tab.after));
    }
    history = new History({ ...noMarks(), ...tab.marks });
    changed();
  } catch (failure) {
    writeTab(tabKey, null);
    fail(failure, 'film');
  } finally {
    receiving--;
    update();
  }
}

// ---------------------------------------------------------------- writing the page

function update() {
  const marks = history.now;
  const both = before.film !== null && after.film !== null;
  const busy = comparing !== null;
  const current = result !== null && asked() === resultOf;

  setText(byId('step'), stepText());
  setText(byId('hint'), hintText());
  const choose = byId('choose');
  choose.hidden = both || receiving > 0;
  const chooseText = choose.firstChild;
  if (chooseText) {
    chooseText.textContent = before.film ? 'Choose the film after' : after.film ? 'Choose the film before' : 'Choose two films';
  }
  const examples = document.getElementById('examples');
  if (examples) {
    examples.hidden = before.film !== null || after.film !== null || receiving > 0;
  }
  byId('states').hidden = !both || (marks.state !== null && !askingState);
  byId('state-said').hidden = marks.state === null || askingState;
  byId('dressing').hidden = !both || marks.state !== 'removed' || marks.noDressing || askingState || busy;
  setText(byId('state-words'), stateWords[marks.state ?? ''] ?? '');
  byId('compare').hidden = !canCompare() || busy || current || marks.started !== null || mode === 'branch';
  byId('busy').hidden = !busy;

  byId('refusal').hidden = refused === null;
  if (refused) {
    setText(byId('refusal-title'), refusalTitles[refused.of]);
    setText(byId('refusal-reason'), refused.refusal.reason);
    setText(byId('refusal-remedy'), refused.refusal.remedy);
    byId('help-with-landmarks').hidden = refused.of !== 'compare' || !/both films/i.test(refused.refusal.remedy);
  }

  byId('result').hidden = result === null;
  byId('result').classList.toggle('stale', result !== null && !current);
  setText(byId('view-means'), viewMeans[views.view] + (views.view === 'residue' ? alsoShown() : ''));
  byId('stale-note').hidden = current;
  byId('keep-row').hidden = kept !== null || !current;
  byId('kept').hidden = kept === null;
  if (kept && byId('kept').dataset.id !== kept.id) {
    byId('kept').dataset.id = kept.id;
    byId('kept').replaceChildren(
      `Kept as “${kept.label}”. `,
      make('a', { href: `/what-is-left/kept/${kept.id}`, textContent: 'See it' }),
      '. ',
      make('button', { type: 'button', className: 'strong', textContent: 'Next two films', onclick: () => void startOver() }),
    );
  }

  byId('setup').hidden = !both;
  if (both) {
    updateSetup();
  }
  /** @type {HTMLButtonElement} */ (byId('undo')).disabled = history.past.length === 0;
  /** @type {HTMLButtonElement} */ (byId('redo')).disabled = history.undone.length === 0;
  /** @type {HTMLButtonElement} */ (byId('swap')).disabled = !before.film && !after.film;
  before.viewer.draw();
  after.viewer.draw();
}

function updateSetup() {
  const marks = history.now;
  /** @type {HTMLSelectElement} */ (byId('tooth')).value = marks.tooth;
  const taken = new Set(allBranches(marks.canals).map((canal) => canal.name));
  const next = nameOfNext(marks);
  const names = [...new Set([next, ...canalNames(marks.tooth)])].filter((name) => !taken.has(name)).sort((one, other) =>
    canalNames(marks.tooth).indexOf(one) - canalNames(marks.tooth).indexOf(other));
  const chips = byId('chips');
  const said = JSON.stringify([names, next]);
  if (chips.dataset.said !== said) {
    const focused = document.activeElement?.closest('#chips') ? document.activeElement.textContent : null;
    chips.dataset.said = said;
    chips.replaceChildren(...names.map((name) => make('button', {
      type: 'button',
      textContent: name,
      ariaPressed: String(name === next),
      onclick: () => {
        history.change((now) => {
          now.nextName = name;
        });
        changed();
      },
    })));
    /** @type {HTMLElement | undefined} */ ([...chips.children].find((chip) => chip.textContent === focused))?.focus();
  }
  showCanals(marks, selected, wordsOf, {
    select,
    rename: (key, name) => edit(key, (canal) => Object.assign(canal, { name, named: true })),
    branch: (key) => {
      trunkOfBranch = key;
      selected = key;
      setMode('branch');
      before.canvas.focus();
    },
    remove: (key) => {
      history.change((now) => removeCanal(now, key));
      changed();
    },
    state: (key, state) => edit(key, (canal) => Object.assign(canal, { state })),
    harden: (key, index) => edit(key, (canal) => {
      canal.pins[index].hard = !canal.pins[index].hard;
    }),
    removePin,
  });
  setText(byId('scale-words'), scaleWords());
  byId('scale-notices').replaceChildren(...(marks.scale ? [] : before.film?.shown.scale_notices ?? []).map((text) => make('p', { textContent: text })));
  byId('scale-file').hidden = marks.scale === null;
  byId('calibration').hidden = mode !== 'calibrate';
  byId('calibrate').hidden = mode === 'calibrate';
  byId('landmarks').ariaPressed = String(mode === 'landmarks');
  setText(byId('landmarks'), mode === 'landmarks' ? 'Done' : 'Mark points on both films');
  byId('landmark-list').replaceChildren(...marks.landmarks.map((_, index) => make('li', { className: 'row' }, [
    make('span', { textContent: `Point ${index + 1}` }),
    make('button', {
      type: 'button',
      textContent: 'Remove',
      ariaLabel: `Remove point ${index + 1}`,
      onclick: () => {
        history.change((now) => void now.landmarks.splice(index, 1));
        changed();
      },
    }),
  ])));
  const notices = [...new Set([...(before.film?.shown.notices ?? []), ...(after.film?.shown.notices ?? [])])];
  byId('film-notices').hidden = notices.length === 0;
  /** @type {HTMLElement} */ (byId('film-notices').querySelector('ul')).replaceChildren(...notices.map((text) => make('li', { textContent: text })));
}

/**
 * @param {number} key
 * @param {(canal: Canal) => void} make
 */
function edit(key, make) {
  history.change((marks) => {
    const canal = findCanal(marks, key);
    if (canal) {
      make(canal);
    }
  });
  changed();
}

/** The rest of what the lines on the film after mean, where there are such lines. */
function alsoShown() {
  const shows = views.laid?.shows;
  return [
    shows?.left ? ' Outlined and hatched is what is left.' : '',
    shows?.faint ? ' Thinly dotted and not hatched: too small for these films to be sure of.' : '',
    shows?.unclear ? ' Dotted and hatched the other way: these films can’t tell.' : '',
  ].join('');
}

function scaleWords() {
  const { scale } = history.now;
  const words = scale?.words ?? before.film?.shown.scale_words ?? '';
  return scale || before.film?.shown.spacing_mm ? `${words}.` : 'No scale: percentages only.';
}

function stepText() {
  const marks = history.now;
  if (receiving > 0) {
    return 'Taking the films in…';
  }
  if (!before.film && !after.film) {
    return 'Two films, a few clicks: what is left in each canal.';
  }
  if (!before.film || !after.film) {
    return before.film ? 'Now the film after.' : 'Now the film before.';
  }
  if (mode === 'calibrate') {
    return 'Click both ends of something of known length, on the film before.';
  }
  if (mode === 'landmarks') {
    const number = marks.landmarks.length + 1;
    return marks.startedLandmark ? `Point ${number}: click the same place on the film after.` : `Point ${number}: click it on the film before.`;
  }
  if (mode === 'branch' && trunkOfBranch !== null) {
    return `Click where the branch leaves ${findCanal(marks, trunkOfBranch)?.name ?? 'its trunk'}.`;
  }
  if (marks.started) {
    return `${nameOfNext(marks, marks.started.trunk)}: click its end.`;
  }
  if (marks.canals.length === 0) {
    return marks.state === null ? '' : `${nameOfNext(marks)}: click its orifice, on the film before.`;
  }
  if (marks.state === null) {
    return '';
  }
  return result !== null && asked() === resultOf ? '' : `${nameOfNext(marks)}: click its orifice, or:`;
}

function hintText() {
  if (receiving > 0) {
    return '';
  }
  if (!before.film && !after.film) {
    return 'Drop both anywhere on this page, paste them, or choose their files: the film before first. PNG, JPEG, TIFF, BMP or DICOM. They stay on this computer.';
  }
  if (!before.film || !after.film) {
    return 'Drop it, paste it, or choose its file.';
  }
  if (history.now.started) {
    return 'Undo takes a click back.';
  }
  if (result === null && history.now.canals.length === 1 && mode === 'canals') {
    return 'Path not right? Click on it or drag it to set a pin.';
  }
  return '';
}

/** @param {'canals' | 'branch' | 'calibrate' | 'landmarks'} next */
function setMode(next) {
  mode = next;
  calibration = [];
  if (next !== 'branch') {
    trunkOfBranch = null;
  }
  if (next === 'landmarks') {
    views.show('film');
    /** @type {HTMLDetailsElement} */ (byId('landmarks-block')).open = true;
  }
  update();
}

/** @param {string} text */
function say(text) {
  setText(byId('said'), text);
}

let flashTimer = 0;

/**
 * A short hint over the film after.
 * @param {string} text
 */
function flash(text) {
  say(text);
  const badge = after.badge;
  badge.textContent = text;
  badge.hidden = false;
  window.clearTimeout(flashTimer);
  flashTimer = window.setTimeout(() => after.update(), 2500);
}

/** @param {Point} at */
const place = ({ x, y }) => `${round(x, 0)}, ${round(y, 0)}`;

/** @param {Point} at */
function describeBefore(at) {
  const reach = 12 / before.viewer.zoom;
  const pin = nearestPin(history.now, at, reach / 2);
  const canal = pin ? findCanal(history.now, pin.key) : null;
  if (pin && canal) {
    const kind = pin.index === 0 ? 'orifice' : pin.index === canal.pins.length - 1 ? 'end' : `pin ${pin.index}`;
    return `${place(at)}, on ${kind} of ${canal.name}`;
  }
  const near = nearestPath(at, reach);
  return near === null ? place(at) : `${place(at)}, on ${findCanal(history.now, near)?.name}`;
}

/**
 * @param {FilmArea} area
 * @param {Point} at
 */
function onFilm(area, { x, y }) {
  const grey = area.film?.grey;
  return grey !== undefined && x >= -0.5 && y >= -0.5 && x <= grey.width - 0.5 && y <= grey.height - 0.5;
}

function showCalibration() {
  setText(byId('calibration-step'), calibration.length < 2
    ? 'Click both ends of something of known length on the film before, such as a ruler, a ball or an instrument’s tip to its stop.'
    : `The marks are ${Math.hypot(calibration[1].x - calibration[0].x, calibration[1].y - calibration[0].y).toFixed(0)} pixels apart.`);
}

function setCalibration() {
  const error = byId('calibration-error');
  const text = /** @type {HTMLInputElement} */ (byId('known-length')).value.trim();
  const length = Number(text.replace(',', '.'));
  const pixels = calibration.length < 2 ? 0 : Math.hypot(calibration[1].x - calibration[0].x, calibration[1].y - calibration[0].y);
  const mmPerPixel = length / pixels;
  const ends = /** @type {[number, number, number, number]} */ (calibration.flatMap(({ x, y }) => [round(x, 3), round(y, 3)]));
  error.hidden = true;
  if (calibration.length < 2) {
    error.textContent = 'Click both ends on the film before first.';
  } else if (!(length > 0)) {
    error.textContent = `“${text}” is not a length. Give millimetres, such as 10 or 1.5.`;
  } else if (pixels < limits.leastPixels) {
    error.textContent = `The two marks are ${pixels.toFixed(1)} pixels apart; a scale needs at least ${limits.leastPixels}.`;
  } else if (!(mmPerPixel >= limits.leastPixelMm && mmPerPixel <= limits.greatestPixelMm)) {
    error.textContent = `That makes a pixel of ${mmPerPixel.toPrecision(3)} mm; an intra-oral film has ${limits.leastPixelMm} to ${limits.greatestPixelMm} mm. Check the length and the two marks.`;
  } else if (!(length >= limits.leastMm && length <= limits.greatestMm)) {
    error.textContent = `A scale is not taken from ${text} mm; give ${limits.leastMm} to ${limits.greatestMm} mm.`;
  } else {
    history.change((marks) => {
      marks.scale = scaleOf({ ends_px: ends, length_mm: length, within_mm: halfOfLastDigit(text) });
    });
    setMode('canals');
    changed();
    byId('calibrate').focus();
    return;
  }
  error.hidden = false;
}

// ---------------------------------------------------------------- what is pressed

const tooth = /** @type {HTMLSelectElement} */ (byId('tooth'));
for (const { name, teeth } of quadrants) {
  tooth.append(make('optgroup', { label: name }, teeth.map((number) => make('option', { value: number, textContent: `${number} ${toothInWords(number)}` }))));
}
tooth.addEventListener('change', () => {
  history.change((marks) => setTooth(marks, tooth.value));
  changed();
});

for (const button of /** @type {NodeListOf<HTMLButtonElement>} */ (document.querySelectorAll('[data-state]'))) {
  button.addEventListener('click', () => {
    askingState = false;
    history.change((marks) => {
      marks.state = button.dataset.state ?? null;
      marks.noDressing = false;
    });
    changed();
    before.canvas.focus({ preventScroll: true });
  });
}
byId('dressing-no').addEventListener('click', () => {
  history.change((marks) => {
    marks.noDressing = true;
  });
  changed();
  before.canvas.focus({ preventScroll: true });
});
byId('dressing-yes').addEventListener('click', () => {
  history.change((marks) => {
    marks.state = 'dressing';
  });
  changed();
  before.canvas.focus({ preventScroll: true });
});
byId('state-change').addEventListener('click', () => {
  askingState = true;
  update();
  /** @type {HTMLElement} */ (document.querySelector(`[data-state="${history.now.state}"]`)).focus();
});

const chooseFiles = /** @type {HTMLInputElement} */ (byId('choose-files'));
chooseFiles.addEventListener('change', () => {
  void receive([...(chooseFiles.files ?? [])], null);
  chooseFiles.value = '';
});

for (const button of /** @type {NodeListOf<HTMLButtonElement>} */ (document.querySelectorAll('[data-example]'))) {
  button.addEventListener('click', async () => {
    try {
      await open(await api.openExample(button.dataset.example ?? ''));
    } catch (failure) {
      fail(failure, 'other');
    }
  });
}

byId('compare').addEventListener('click', () => void compare());
byId('stop').addEventListener('click', () => {
  comparing?.abort();
  comparing = null;
  update();
});
byId('refusal-close').addEventListener('click', () => refuse(null));
byId('help-with-landmarks').addEventListener('click', () => setMode('landmarks'));
byId('landmarks').addEventListener('click', () => setMode(mode === 'landmarks' ? 'canals' : 'landmarks'));
byId('calibrate').addEventListener('click', () => {
  setMode('calibrate');
  showCalibration();
  before.canvas.focus();
});
byId('calibration-set').addEventListener('click', setCalibration);
byId('known-length').addEventListener('keydown', (event) => {
  if (event.key === 'Enter') {
    setCalibration();
  }
});
byId('calibration-cancel').addEventListener('click', () => setMode('canals'));
byId('scale-file').addEventListener('click', () => {
  history.change((marks) => {
    marks.scale = null;
  });
  changed();
});

byId('keep').addEventListener('click', async () => {
  const open = result;
  if (!open) {
    return;
  }
  try {
    const one = await api.keep(open.id, /** @type {HTMLInputElement} */ (byId('label')).value);

    // Said to be kept only once it belongs to the case: whoever goes back at once finds it there.
    const failure = caseId ? await api.attachToCase(caseId, one.id).then(() => null, (why) => why) : null;
    kept = one;
    /** @type {HTMLAnchorElement} */ (byId('sheet')).href = `/api/kept/${kept.id}/sheet.pdf`;
    refuse(null);
    if (failure) {
      throw failure;
    }
  } catch (failure) {
    fail(failure, 'other');
  }
});
byId('throw-away').addEventListener('click', () => askThrowAway(true));
byId('throw-away-no').addEventListener('click', () => askThrowAway(false));
byId('throw-away-yes').addEventListener('click', () => {
  askThrowAway(false);
  void startOver();
});
byId('start-over').addEventListener('click', () => void startOver());

/** @param {boolean} asking */
function askThrowAway(asking) {
  byId('throw-away').hidden = asking;
  byId('throw-away-asked').hidden = !asking;
  byId(asking ? 'throw-away-yes' : 'throw-away').focus();
}

byId('undo').addEventListener('click', () => step('undo'));
byId('redo').addEventListener('click', () => step('redo'));
byId('swap').addEventListener('click', swap);
linked.addEventListener('click', () => {
  linked.ariaPressed = String(linked.ariaPressed !== 'true');
  link(before.viewer, after.viewer);
});

/** @param {'undo' | 'redo'} way */
function step(way) {
  if (way === 'undo' ? history.undo() : history.redo()) {
    say(way === 'undo' ? 'Undone.' : 'Done again.');
    changed();
  }
}

document.addEventListener('keydown', (event) => {
  const asked = stepOf(event);
  if (asked) {
    step(asked);
  } else if (event.key === 'Escape' && mode !== 'canals') {
    setMode('canals');
  }
});
originalByKey([before, after]);

document.addEventListener('dragover', (event) => {
  if (event.dataTransfer?.types.includes('Files')) {
    event.preventDefault();
    byId('bench').classList.add('dropping');
  }
});
document.addEventListener('dragleave', (event) => {
  if (event.relatedTarget === null) {
    byId('bench').classList.remove('dropping');
  }
});
document.addEventListener('drop', (event) => {
  byId('bench').classList.remove('dropping');
  const files = [...(event.dataTransfer?.files ?? [])];
  if (files.length > 0) {
    event.preventDefault();
    const area = event.target instanceof Element ? event.target.closest('.film') : null;
    void receive(files, area && files.length === 1 ? /** @type {Side} */ (area.id) : null);
  }
});
document.addEventListener('paste', (event) => {
  const files = [...(event.clipboardData?.files ?? [])];
  if (files.length > 0) {
    event.preventDefault();
    const area = document.activeElement?.closest('.film');
    void receive(files, area && files.length === 1 ? /** @type {Side} */ (area.id) : null);
  }
});

document.fonts.ready.then(() => before.viewer.draw()).catch(() => {});
update();
await restore();
document.documentElement.dataset.ready = 'true';
