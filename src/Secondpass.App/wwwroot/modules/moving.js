import { isTyping } from './dom.js';

/**
 * @typedef {import('./marks.js').Point} Point
 * @typedef {import('./viewer.js').Hold} Hold
 * @typedef {{ points: Point[] }} Drawn
 */

/**
 * Moves something with one undo for the whole way.
 * @template {object} State
 * @param {import('./marks.js').History<State>} history
 * @param {(now: State, to: Point) => void} put
 * @param {() => void} changed
 * @param {(moved: boolean) => void} [dropped] told whether it was moved before
 * @returns {Hold}
 */
export function holdOf(history, put, changed, dropped = () => {}) {
  let begun = false;
  return {
    move: (to) => {
      const make = (/** @type {State} */ now) => put(now, to);
      if (begun) {
        history.amend(make);
      } else {
        history.change(make);
        begun = true;
      }
      changed();
    },
    drop: () => dropped(begun),
    cancel: () => {
      if (begun) {
        history.undo();
        changed();
      }
    },
  };
}

/**
 * Takes hold of the point of a drawing that lies near; it stays on the film.
 * @template {Drawn} State
 * @param {import('./marks.js').History<State>} history
 * @param {{ width: number, height: number }} film
 * @param {Point} at
 * @param {number} reach
 * @param {() => void} changed
 */
export function holdPoint(history, film, at, reach, changed) {
  const index = nearest(history.now.points, at, reach);
  return index === null ? null : holdOf(history, (now, to) => {
    now.points[index] = { x: Math.min(film.width - 1, Math.max(0, to.x)), y: Math.min(film.height - 1, Math.max(0, to.y)) };
  }, changed);
}

/**
 * Removes the point of a drawing that lies near, if one does.
 * @template {Drawn} State
 * @param {import('./marks.js').History<State>} history
 * @param {Point} at
 * @param {number} reach
 * @param {() => void} changed
 */
export function removePoint(history, at, reach, changed) {
  const index = nearest(history.now.points, at, reach);
  if (index !== null) {
    history.change((now) => {
      now.points.splice(index, 1);
    });
    changed();
  }
}

/**
 * @param {KeyboardEvent} event
 * @returns {'undo' | 'redo' | null} what the keys ask for; the browser's own undo is kept from it
 */
export function stepOf(event) {
  const key = event.key.toLowerCase();
  if (!(event.ctrlKey || event.metaKey) || isTyping(event) || (key !== 'z' && key !== 'y')) {
    return null;
  }
  event.preventDefault();
  return key === 'y' || event.shiftKey ? 'redo' : 'undo';
}

/**
 * @param {Point[]} points
 * @param {Point} at
 * @param {number} reach
 */
function nearest(points, at, reach) {
  const distances = points.map((point) => Math.hypot(point.x - at.x, point.y - at.y));
  const index = distances.indexOf(Math.min(...distances));
  return index >= 0 && distances[index] <= reach ? index : null;
}
