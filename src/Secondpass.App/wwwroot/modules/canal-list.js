import { byId, make, part, setChoices, setText } from './dom.js';
import { allBranches, round } from './marks.js';
import { canalNames } from './names.js';

/**
 * @typedef {import('./marks.js').Marks} Marks
 * @typedef {{ words: string, signs: string[] }} Said what was measured along a canal, or why it wasn't
 * @typedef {object} Told
 * @property {(key: number) => void} select
 * @property {(key: number, name: string) => void} rename
 * @property {(key: number) => void} branch
 * @property {(key: number) => void} remove
 * @property {(key: number, state: string | null) => void} state
 * @property {(key: number, pin: number) => void} harden
 * @property {(key: number, pin: number) => void} removePin
 */

/**
 * Writes the canals that are marked into the page; rows are kept while their canal is, so that the focus stays.
 * @param {Marks} marks
 * @param {number | null} selected
 * @param {(name: string) => Said | null} traced
 * @param {Told} told
 */
export function showCanals(marks, selected, traced, told) {
  const list = byId('canals');
  const branches = allBranches(marks.canals);
  byId('canals-block').hidden = branches.length === 0;
  const rows = new Map([...list.children].map((row) => [Number(/** @type {HTMLElement} */ (row).dataset.key), /** @type {HTMLElement} */ (row)]));
  const wanted = branches.map((canal) => rows.get(canal.key) ?? newRow(canal.key, told));
  for (const row of rows.values()) {
    if (!wanted.includes(row)) {
      row.remove();
    }
  }
  wanted.forEach((row, index) => {
    if (list.children[index] !== row) {
      list.insertBefore(row, list.children[index] ?? null);
    }
    fillRow(row, marks, branches[index], branches[index].key === selected, traced(branches[index].name), told);
  });
}

/**
 * @param {number} key
 * @param {Told} told
 */
function newRow(key, told) {
  const template = /** @type {HTMLTemplateElement} */ (byId('canal-row'));
  const row = /** @type {HTMLElement} */ (/** @type {Element} */ (template.content.firstElementChild).cloneNode(true));
  row.dataset.key = String(key);
  const name = /** @type {HTMLSelectElement} */ (part(row, 'name'));
  name.addEventListener('change', () => told.rename(key, name.value));
  part(row, 'branch').addEventListener('click', () => told.branch(key));
  part(row, 'remove').addEventListener('click', () => told.remove(key));
  const state = /** @type {HTMLSelectElement} */ (part(row, 'state'));
  state.addEventListener('change', () => told.state(key, state.value || null));
  row.addEventListener('focusin', () => told.select(key));
  row.addEventListener('click', () => told.select(key));
  return row;
}

/**
 * @param {HTMLElement} row
 * @param {Marks} marks
 * @param {import('./marks.js').Canal} canal
 * @param {boolean} selected
 * @param {Said | null} traced
 * @param {Told} told
 */
function fillRow(row, marks, canal, selected, traced, told) {
  row.classList.toggle('selected', selected);
  const taken = allBranches(marks.canals).filter((other) => other !== canal).map((other) => other.name);
  const names = [...new Set([canal.name, ...canalNames(marks.tooth)])].filter((name) => !taken.includes(name));
  const name = /** @type {HTMLSelectElement} */ (part(row, 'name'));
  setChoices(name, names, canal.name);
  name.ariaLabel = `Name of ${canal.name}`;
  part(row, 'branch').ariaLabel = `Mark a branch of ${canal.name}`;
  part(row, 'remove').ariaLabel = `Remove ${canal.name}`;
  setText(part(row, 'words'), traced?.words ?? 'tracing…');
  const signs = part(row, 'signs');
  signs.hidden = !traced || traced.signs.length === 0;
  signs.replaceChildren(...(traced?.signs ?? []).map((text) => make('li', { textContent: text })));
  const state = /** @type {HTMLSelectElement} */ (part(row, 'state'));
  state.value = canal.state ?? '';
  state.ariaLabel = `What stands in ${canal.name} on the film after`;
  part(row, 'state-row').hidden = !selected && canal.state === null;
  const pins = part(row, 'pins');
  const between = canal.pins.slice(1, -1);
  pins.hidden = !selected || between.length === 0;
  const said = JSON.stringify(between);
  if (pins.dataset.said !== said) {
    pins.dataset.said = said;
    pins.replaceChildren(...between.map((pin, index) => make('li', { className: 'row' }, [
      make('span', { textContent: `Pin ${index + 1} at ${round(pin.x, 0)}, ${round(pin.y, 0)}` }),
      make('button', {
        type: 'button',
        textContent: pin.hard ? 'exact' : 'near',
        ariaPressed: String(pin.hard),
        ariaLabel: `Pin ${index + 1} of ${canal.name}: the path goes through it exactly`,
        onclick: () => told.harden(canal.key, index + 1),
      }),
      make('button', {
        type: 'button',
        textContent: 'Remove',
        ariaLabel: `Remove pin ${index + 1} of ${canal.name}`,
        onclick: () => told.removePin(canal.key, index + 1),
      }),
    ])));
  }
}
