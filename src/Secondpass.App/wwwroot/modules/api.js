/**
 * @typedef {{ code: string, reason: string, remedy: string }} Refusal
 * @typedef {{ id: string, width: number, height: number, greatest_value: number, first_window: [number, number], shown_curve: string | null,
 *   spacing_mm: number | null, scale_words: string, notices: string[], scale_notices: string[] }} ShownFilm
 * @typedef {{ name: string, path: [number, number][], edges: [number, number, number, number][][], band: [number, number, number, number][], words: string, signs: string[], figures: [string, string][], more: string[] }} TracedBranch
 * @typedef {{ name: string, headline: string, kind: 'left' | 'none_visible' | 'refused', remedy: string | null,
 *   mass: string[], area: string[], smallest_patch: string, strip: string }} ShownBranch
 * @typedef {{ answer: string, words: string, place: string | null, why: string[] }} PassPlace
 * @typedef {{ words: string, at_px: [number, number] }} Moved
 * @typedef {{ registration: { matrix: number[] }, canals: { name: string, next_pass: PassPlace[] }[], moved: Moved[], notices: string[] }} CompareDocument
 * @typedef {{ id: string, document: CompareDocument, branches: ShownBranch[], legend: string, scale_words: string, state_words: string }} ShownComparison
 * @typedef {{ before: string | null, after: string | null, case: import('./marks.js').CaseDocument }} Reopened
 * @typedef {'length' | 'angle' | 'angle_of_lines' | 'lesion' | 'known_length'} DrawnKind
 * @typedef {{ schema: 1, kind: DrawnKind, points_px: [number, number][], true_length_mm: number | null, pixel_spacing_mm: number | null }} Drawing
 * @typedef {{ figures: { words: string, owed: string }[], curve: [number, number][], diameter: [number, number][] }} ShownDrawing
 */

/** What the workbench refuses, with what to do about it. */
export class Refused extends Error {
  /** @param {Refusal} refusal */
  constructor(refusal) {
    super(refusal.reason);
    this.refusal = refusal;
  }
}

/** @type {Refusal} */
const noAnswer = {
  code: 'no_answer',
  reason: 'Secondpass does not answer.',
  remedy: 'See whether it still runs in the window it was started in, then do it again. What you entered is still here.',
};

/** What this page calls itself, so that no other throws a film away that is shown here. */
const page = { 'Secondpass-Page': crypto.randomUUID() };

/** How often it is said which films are shown, in milliseconds: well within the silence after which a page counts no more. */
const sayEvery = 60_000;

/** The films that this page shows or has just asked for. @type {Set<string>} */
const shown = new Set();

/**
 * @param {string} path
 * @param {RequestInit} [init]
 * @returns {Promise<Response>}
 */
async function ask(path, init) {
  let response;
  try {
    response = await fetch(path, { ...init, headers: { ...init?.headers, ...page } });
  } catch (failure) {
    if (failure instanceof DOMException && failure.name === 'AbortError') {
      throw failure;
    }
    throw new Refused(noAnswer);
  }
  if (response.ok) {
    return response;
  }
  let refusal = noAnswer;
  try {
    refusal = await response.json();
  } catch {
    // An answer without a reason is as good as none.
  }
  throw new Refused(refusal);
}

/**
 * @param {string} path
 * @param {unknown} body
 * @param {AbortSignal} [signal]
 */
async function send(path, body, signal) {
  const response = await ask(path, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify(body),
    signal,
  });
  return response.json();
}

/**
 * Whether a failure only says that something newer was asked meanwhile.
 * @param {unknown} failure
 */
export const isOvertaken = (failure) => failure instanceof DOMException && failure.name === 'AbortError';

/**
 * @param {Blob} file
 * @returns {Promise<ShownFilm>}
 */
export async function receiveFilm(file) {
  /** @type {ShownFilm} */
  const film = await (await ask('/api/films', { method: 'POST', headers: { 'Content-Type': 'application/octet-stream' }, body: file })).json();
  shown.add(film.id);
  return film;
}

/**
 * @param {string} id
 * @returns {Promise<ShownFilm>}
 */
export async function readFilm(id) {
  shown.add(id);
  return (await ask(`/api/films/${id}`)).json();
}

/**
 * @param {string} id
 * @returns {Promise<Uint16Array>}
 */
export const readPixels = async (id) => new Uint16Array(await (await ask(`/api/films/${id}/pixels`)).arrayBuffer());

/** @param {string} id */
export function throwFilmAway(id) {
  shown.delete(id);
  return ask(`/api/films/${id}`, { method: 'DELETE' });
}

/**
 * Says that this page no longer shows a film, which stays for now.
 * @param {string} id
 */
export function letGo(id) {
  shown.delete(id);
  tellInUse('DELETE', id);
}

/**
 * Unheard, it does no harm: it is said again, or the page falls silent.
 * @param {'PUT' | 'DELETE'} method
 * @param {string} id
 */
const tellInUse = (method, id) => void ask(`/api/films/${id}/in-use`, { method, keepalive: true }).catch(() => {});
const tellAll = () => shown.forEach((id) => tellInUse('PUT', id));

window.setInterval(tellAll, sayEvery);
window.addEventListener('pagehide', () => shown.forEach((id) => tellInUse('DELETE', id)));
window.addEventListener('pageshow', (event) => {
  // The browser may show a page again just as it was left.
  if (event.persisted) {
    tellAll();
  }
});

/**
 * @param {string} id
 * @param {import('./marks.js').CanalDocument} clicks
 * @param {{ scale: number | null, known_length: import('./marks.js').KnownLengthDocument | null }} scale mm per pixel, or an object of known length
 * @param {unknown[]} [beside] the film's other canals: measured with it, for fillings can lie over each other
 * @returns {Promise<{ branches: TracedBranch[] }>} the branches of all of them
 */
export const trace = (id, clicks, scale, beside = []) => send(`/api/films/${id}/trace`, { clicks, ...scale, beside });

/**
 * Measures what was drawn on a film of a case.
 * @param {string} caseId
 * @param {string} film
 * @param {Drawing} drawing
 * @param {AbortSignal} signal
 * @returns {Promise<ShownDrawing>}
 */
export const measureDrawing = (caseId, film, drawing, signal) => send(`/api/cases/${caseId}/films/${film}/draw`, drawing, signal);

/**
 * @param {string} before
 * @param {string} after
 * @param {import('./marks.js').CaseDocument} marks
 * @param {string} caseId the case whose instruments another pass would be made with; empty for none
 * @param {AbortSignal} signal
 * @returns {Promise<ShownComparison>}
 */
export const compare = (before, after, marks, caseId, signal) => send('/api/comparisons', { before, after, case: marks, of_case: caseId }, signal);

/**
 * @param {string} id
 * @returns {Promise<Uint16Array>}
 */
export const readAligned = async (id) => new Uint16Array(await (await ask(`/api/comparisons/${id}/aligned`)).arrayBuffer());

/**
 * @param {string} id
 * @returns {Promise<Uint8Array>}
 */
export const readResidue = async (id) => new Uint8Array(await (await ask(`/api/comparisons/${id}/residue`)).arrayBuffer());

/**
 * @param {string} id
 * @param {string} label
 * @returns {Promise<{ id: string, label: string }>}
 */
export const keep = (id, label) => send(`/api/comparisons/${id}/keep`, { label });

/** @param {string} id */
export const throwComparisonAway = (id) => ask(`/api/comparisons/${id}`, { method: 'DELETE' });

/**
 * @param {string} name
 * @returns {Promise<Reopened>}
 */
export const openExample = async (name) => (await ask(`/api/examples/${encodeURIComponent(name)}`, { method: 'POST' })).json();

/**
 * @param {string} id
 * @returns {Promise<Reopened>}
 */
export const openCase = async (id) => (await ask(`/api/cases/${encodeURIComponent(id)}/films`)).json();

/**
 * Adds a kept comparison to a case.
 * @param {string} id
 * @param {string} kept
 */
export const attachToCase = (id, kept) => ask(`/api/cases/${encodeURIComponent(id)}/comparisons/${kept}`, { method: 'POST' });

/**
 * @param {string} id
 * @returns {Promise<Reopened>}
 */
export const openKept = async (id) => (await ask(`/api/kept/${encodeURIComponent(id)}`)).json();
