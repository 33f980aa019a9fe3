import { canalNames } from './names.js';

/**
 * @typedef {{ x: number, y: number }} Point in pixels of a film; (0, 0) is the centre of its top left pixel
 * @typedef {{ x: number, y: number, hard: boolean }} Pin
 * @typedef {{ key: number, name: string, named: boolean, state: string | null, pins: Pin[], branches: Canal[] }} Canal
 *   named: whether a person chose the name
 * @typedef {{ before: Point, after: Point }} Landmark
 * @typedef {{ ends_px: [number, number, number, number], length_mm: number, within_mm: number | null }} KnownLengthDocument
 * @typedef {{ mmPerPixel: number, words: string, known: KnownLengthDocument | null }} Scale
 * @typedef {{ tooth: string, state: string | null, noDressing: boolean, canals: Canal[],
 *   started: { at: Point, trunk: number | null, name?: string } | null,
 *   nextName: string | null, landmarks: Landmark[], startedLandmark: Point | null, scale: Scale | null }} Marks
 *   noDressing: whether it was said that no dressing or paste is in the canal on the film after
 *   started: an orifice, or a point of a trunk, whose other end is not marked yet; name: where it is known already
 *
 * @typedef {{ name: string, trace_px: [number, number][], pin: 'soft', hard_px: [number, number][] | null,
 *   after_state: string | null, branches: CanalDocument[] | null }} CanalDocument
 * @typedef {{ schema: 1, tooth: string | null, pixel_spacing_mm: number | null, known_length?: KnownLengthDocument | null, after_spacing_mm: null, after_state: string | null,
 *   landmarks_px: [number, number, number, number][] | null, canals: CanalDocument[] }} CaseDocument
 */

/** @returns {Marks} */
export const noMarks = () => ({
  tooth: '',
  state: null,
  noDressing: false,
  canals: [],
  started: null,
  nextName: null,
  landmarks: [],
  startedLandmark: null,
  scale: null,
});

/**
 * All canals and branches, parents before children.
 * @param {Canal[]} canals
 * @returns {Canal[]}
 */
export const allBranches = (canals) => canals.flatMap((canal) => [canal, ...allBranches(canal.branches)]);

/**
 * @param {Marks} marks
 * @param {number} key
 */
export const findCanal = (marks, key) => allBranches(marks.canals).find((canal) => canal.key === key) ?? null;

/**
 * The pin nearest to a place of the film, within reach.
 * @param {Marks} marks
 * @param {Point} at
 * @param {number} reach
 * @returns {{ key: number, index: number } | null} the canal's key, and which of its pins
 */
export function nearestPin(marks, at, reach) {
  let best = null;
  let nearest = reach;
  for (const canal of allBranches(marks.canals)) {
    for (let index = 0; index < canal.pins.length; index++) {
      const distance = Math.hypot(canal.pins[index].x - at.x, canal.pins[index].y - at.y);
      if (distance <= nearest) {
        nearest = distance;
        best = { key: canal.key, index };
      }
    }
  }
  return best;
}

/**
 * The name that the next canal gets.
 * @param {Marks} marks
 * @param {number | null} trunk key of the canal that it branches from
 */
export function nameOfNext(marks, trunk = null) {
  const taken = new Set(allBranches(marks.canals).map((canal) => canal.name.toLowerCase()));
  if (trunk !== null) {
    const name = findCanal(marks, trunk)?.name ?? 'Canal';
    for (let number = 2; ; number++) {
      if (!taken.has(`${name} branch ${number}`.toLowerCase())) {
        return `${name} branch ${number}`;
      }
    }
  }
  if (marks.nextName && !taken.has(marks.nextName.toLowerCase())) {
    return marks.nextName;
  }
  const free = canalNames(marks.tooth).find((name) => !taken.has(name.toLowerCase()));
  if (free) {
    return free;
  }
  for (let number = 1; ; number++) {
    if (!taken.has(`canal ${number}`)) {
      return `Canal ${number}`;
    }
  }
}

/**
 * Changes the tooth, and with it the names that nobody chose.
 * @param {Marks} marks
 * @param {string} tooth
 */
export function setTooth(marks, tooth) {
  marks.tooth = tooth;
  marks.nextName = null;
  const given = marks.canals.filter((canal) => !canal.named);
  for (const canal of given) {
    canal.name = '';
  }
  for (const canal of given) {
    canal.name = nameOfNext(marks);
  }
}

/**
 * Closes a started canal with its end.
 * @param {Marks} marks
 * @param {Point} end
 * @param {boolean} hard
 * @returns {number} the new canal's key
 */
export function finishCanal(marks, end, hard) {
  const started = /** @type {NonNullable<Marks['started']>} */ (marks.started);
  const key = 1 + Math.max(0, ...allBranches(marks.canals).map((canal) => canal.key));
  /** @type {Canal} */
  const canal = {
    key,
    name: started.name ?? nameOfNext(marks, started.trunk),
    named: started.name !== undefined || (marks.nextName !== null && started.trunk === null),
    state: null,
    pins: [{ ...started.at, hard: false }, { x: end.x, y: end.y, hard }],
    branches: [],
  };
  const trunk = started.trunk === null ? null : findCanal(marks, started.trunk);
  (trunk?.branches ?? marks.canals).push(canal);
  marks.started = null;
  marks.nextName = null;
  return key;
}

/**
 * Removes a canal or branch with all below it.
 * @param {Marks} marks
 * @param {number} key
 */
export function removeCanal(marks, key) {
  /** @param {Canal[]} canals @returns {Canal[]} */
  const without = (canals) =>
    canals.filter((canal) => canal.key !== key).map((canal) => ({ ...canal, branches: without(canal.branches) }));
  marks.canals = without(marks.canals);
}

/**
 * Puts a pin between those of a canal, where it lies along the way.
 * @param {Canal} canal
 * @param {Point[]} path the traced path, or the marks when there is none yet
 * @param {Pin} pin
 * @returns {number} its place among the pins
 */
export function addPin(canal, path, pin) {
  const level = levelOn(path, pin);
  let place = canal.pins.findIndex((other, index) => index > 0 && levelOn(path, other) > level);
  if (place < 0) {
    place = canal.pins.length - 1;
  }
  canal.pins.splice(place, 0, pin);
  return place;
}

/**
 * Length along a path to the point of it that lies nearest.
 * @param {Point[]} path
 * @param {Point} point
 */
export function levelOn(path, point) {
  return nearestOn(path, point).level;
}

/**
 * The point of a path that lies nearest.
 * @param {Point[]} path
 * @param {Point} point
 * @returns {{ at: Point, level: number, distance: number }}
 */
export function nearestOn(path, point) {
  let best = { at: path[0] ?? point, level: 0, distance: Infinity };
  let level = 0;
  for (let i = 1; i < path.length; i++) {
    const from = path[i - 1];
    const to = path[i];
    const length = Math.hypot(to.x - from.x, to.y - from.y);
    const share = length === 0 ? 0
      : Math.min(1, Math.max(0, ((point.x - from.x) * (to.x - from.x) + (point.y - from.y) * (to.y - from.y)) / (length * length)));
    const at = { x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) };
    const distance = Math.hypot(point.x - at.x, point.y - at.y);
    if (distance < best.distance) {
      best = { at, level: level + share * length, distance };
    }
    level += length;
  }
  return best;
}

/** The share of a canal from its orifice on in which other canals begin too: there a click starts the next canal and sets no pin. */
const orificeShare = 0.25;

/**
 * The canal whose path is nearest to a place of the film, within reach.
 * @param {Marks} marks
 * @param {(canal: Canal) => Point[]} pathOf
 * @param {Point} at
 * @param {number} reach
 * @returns {Canal | null}
 */
export function nearestCanal(marks, pathOf, at, reach) {
  let best = null;
  let nearest = reach;
  for (const canal of allBranches(marks.canals)) {
    const { distance } = nearestOn(pathOf(canal), at);
    if (distance <= nearest) {
      nearest = distance;
      best = canal;
    }
  }
  return best;
}

/**
 * Whether a place lies where other canals begin too.
 * @param {Point[]} path
 * @param {Point} at
 */
export const isNearOrifice = (path, at) => levelOn(path, at) < orificeShare * levelOn(path, path[path.length - 1]);

/**
 * A canal as the workbench reads it.
 * @param {Canal} canal
 * @returns {CanalDocument}
 */
export function toCanalDocument(canal) {
  const hard = canal.pins.filter((pin) => pin.hard);
  return {
    name: canal.name,
    trace_px: canal.pins.map(pair),
    pin: 'soft',
    hard_px: hard.length > 0 ? hard.map(pair) : null,
    after_state: canal.state,
    branches: canal.branches.length > 0 ? canal.branches.map(toCanalDocument) : null,
  };
}

/**
 * All marks as the workbench and the command line read them.
 * @param {Marks} marks
 * @returns {CaseDocument}
 */
export const toCaseDocument = (marks) => ({
  schema: 1,
  tooth: marks.tooth || null,
  pixel_spacing_mm: asScale(marks.scale).scale,
  known_length: asScale(marks.scale).known_length,
  after_spacing_mm: null,
  after_state: marks.state,
  landmarks_px: marks.landmarks.length > 0
    ? marks.landmarks.map(({ before, after }) => [...pair(before), ...pair(after)])
    : null,
  canals: marks.canals.map(toCanalDocument),
});

/**
 * Marks from a case document.
 * @param {CaseDocument} document
 * @returns {Marks}
 */
export function fromCaseDocument(document) {
  let key = 0;
  /** @param {any} canal @returns {Canal} */
  const read = (canal) => ({
    key: ++key,
    name: canal.name,
    named: true,
    state: canal.after_state ?? null,
    pins: canal.trace_px.map((/** @type {[number, number]} */ [x, y]) => ({
      x,
      y,
      hard: canal.pin === 'hard'
        || (canal.hard_px ?? []).some((/** @type {[number, number]} */ mark) => mark[0] === x && mark[1] === y),
    })),
    branches: (canal.branches ?? []).map(read),
  });
  return {
    ...noMarks(),
    tooth: document.tooth ?? '',
    state: document.after_state ?? null,
    scale: document.pixel_spacing_mm
      ? { mmPerPixel: document.pixel_spacing_mm, words: `${round(document.pixel_spacing_mm, 4)} mm per pixel, as entered`, known: null }
      : document.known_length ? scaleOf(document.known_length) : null,
    landmarks: (document.landmarks_px ?? []).map(([bx, by, ax, ay]) => ({ before: { x: bx, y: by }, after: { x: ax, y: ay } })),
    canals: document.canals.map(read),
  };
}

/**
 * The scale that an object of known length gives.
 * @param {KnownLengthDocument} known
 * @returns {Scale}
 */
export function scaleOf(known) {
  const [fromX, fromY, toX, toY] = known.ends_px;
  const mmPerPixel = known.length_mm / Math.hypot(toX - fromX, toY - fromY);
  return { mmPerPixel, words: `${round(mmPerPixel, 4)} mm per pixel, from an object of known length on the film, ${known.length_mm} mm`, known };
}

/**
 * How far a number may lie from what was typed: half of its last digit.
 * @param {string} typed
 */
export const halfOfLastDigit = (typed) => 0.5 / 10 ** (typed.replace(',', '.').split('.')[1]?.length ?? 0);

/**
 * A scale as a trace is asked with it.
 * @param {Scale | null} scale
 */
export const asScale = (scale) => ({ scale: scale && !scale.known ? scale.mmPerPixel : null, known_length: scale?.known ?? null });

/**
 * @param {Point} point
 * @returns {[number, number]}
 */
const pair = ({ x, y }) => [round(x, 2), round(y, 2)];

/**
 * @param {number} value
 * @param {number} digits
 */
export const round = (value, digits) => Math.round(value * 10 ** digits) / 10 ** digits;

/**
 * Marks, or what else is drawn, with everything that was undone or can be.
 * @template {object} [State=Marks]
 */
export class History {
  /** @param {State} marks */
  constructor(marks) {
    this.now = marks;
    /** @type {State[]} */
    this.past = [];
    /** @type {State[]} */
    this.undone = [];
  }

  /**
   * Makes one change that one undo takes back.
   * @template T
   * @param {(marks: State) => T} make changes the marks that it is given
   * @returns {T}
   */
  change(make) {
    const next = structuredClone(this.now);
    const result = make(next);
    this.past.push(this.now);
    this.undone = [];
    this.now = next;
    return result;
  }

  /**
   * Goes on with the last change, as while a pin is dragged.
   * @param {(marks: State) => void} make
   */
  amend(make) {
    const next = structuredClone(this.now);
    make(next);
    this.now = next;
  }

  undo() {
    const before = this.past.pop();
    if (before) {
      this.undone.push(this.now);
      this.now = before;
    }
    return before !== undefined;
  }

  redo() {
    const after = this.undone.pop();
    if (after) {
      this.past.push(this.now);
      this.now = after;
    }
    return after !== undefined;
  }
}
