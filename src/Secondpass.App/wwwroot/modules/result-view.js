import { byId, make, setText } from './dom.js';

/**
 * Writes what came out into the page.
 * @param {import('./api.js').ShownComparison} comparison
 */
export function showResult(comparison) {
  byId('headlines').replaceChildren(...comparison.branches.map((branch, index) =>
    headline(branch, comparison.branches[index + 1], comparison.document.canals.find(({ name }) => name === branch.name)?.next_pass ?? [])));
  const patches = comparison.branches.filter((branch) => branch.kind !== 'refused');
  setText(
    byId('what-films-show'),
    patches.length === 0
      ? ''
      : `These films can't show residue smaller than ${smallestPatches(patches).replaceAll(' mm', '\u00a0mm')}, or what lies behind something dense.`,
  );
  byId('what-films-show').hidden = patches.length === 0;
  byId('by-thirds').hidden = patches.length === 0;
  byId('thirds').replaceChildren(...comparison.branches.map(row));
  const { moved } = comparison.document;
  byId('moved').hidden = moved.length === 0;
  byId('none-moved').hidden = moved.length > 0 || patches.length === 0;
  /** @type {HTMLElement} */ (byId('moved').querySelector('ul')).replaceChildren(...moved.map(({ words }) => make('li', {}, unbroken(`${words}.`))));
  for (const slot of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll('[data-own]'))) {
    setText(slot, `Here: ${patches.map((branch) => `${branch.name} ${branch.mass[Number(slot.dataset.own)] || '–'}`).join('; ')}.`);
  }
  byId('strips').replaceChildren(...comparison.branches.map((branch) => picture(branch.strip)));
  byId('legend').replaceChildren(picture(comparison.legend));
  const said = [...comparison.document.notices];
  byId('notices').replaceChildren(
    make('p', { className: 'quiet', textContent: `On the film after: ${comparison.state_words}. Scale: ${comparison.scale_words}.` }),
    ...said.map((text) => make('p', { className: 'quiet', textContent: text })),
  );
  /** @type {HTMLAnchorElement} */ (byId('sheet')).href = `/api/comparisons/${comparison.id}/sheet.pdf`;
}

/**
 * The smallest patch that the films could show, with the canals it holds for where it is not the same for all.
 * @param {import('./api.js').ShownBranch[]} branches
 */
function smallestPatches(branches) {
  const patches = [...new Set(branches.map((branch) => branch.smallest_patch))];
  return patches.length === 1 ? patches[0] : patches
    .map((patch) => `${patch} (${branches.filter((branch) => branch.smallest_patch === patch).map((branch) => branch.name).join(', ')})`)
    .join(', ');
}

/**
 * @param {import('./api.js').ShownBranch} branch
 * @param {import('./api.js').ShownBranch | undefined} next the branch below, which says the remedy where it has the same
 * @param {import('./api.js').PassPlace[]} passes whether another pass is worth it, the largest place first
 */
function headline(branch, next, passes) {
  const name = branch.name;
  const rest = branch.headline.startsWith(name) ? branch.headline.slice(name.length) : `: ${branch.headline}`;
  const lines = [make('p', { className: 'headline' }, [make('strong', { textContent: name }), ...unbroken(rest)])];
  if (branch.remedy && branch.remedy !== next?.remedy) {
    lines.push(make('p', { className: 'quiet', textContent: branch.remedy }));
  }
  return make('div', { className: `outcome ${branch.kind}` }, [...lines, ...anotherPass(passes)]);
}

/**
 * The one next step of a canal; what it rests on and other places stand behind "Why".
 * @param {import('./api.js').PassPlace[]} passes
 */
function anotherPass([next, ...others]) {
  if (!next) {
    return [];
  }
  const lines = [make('p', { className: 'pass-words' }, unbroken(next.words))];
  if (next.place) {
    lines.push(make('p', { className: 'pass-place' }, unbroken(next.place)));
  }
  if (next.why.length + others.length === 0) {
    return lines;
  }
  return [...lines, make('details', { className: 'pass-why' }, [
    make('summary', { textContent: others.length > 0 ? 'Why, and other places' : 'Why' }),
    ...next.why.map((why) => make('p', { className: 'quiet', textContent: why })),
    ...others.map((other) => make('p', {}, unbroken(`${other.place}: ${other.words}`))),
  ])];
}

/** @param {import('./api.js').ShownBranch} branch */
function row(branch) {
  const cells = [0, 1, 2].map((third) => {
    const mass = branch.mass[third];
    const area = branch.area[third];
    return make('td', {}, mass === area ? unbroken(mass || '–') : [...unbroken(mass || '–'), make('small', {}, ['area ', ...unbroken(area)])]);
  });
  return make('tr', {}, [make('th', { scope: 'row', textContent: branch.name }), ...cells]);
}

/**
 * A text in which a number stays with its unit, and an interval in one piece.
 * @param {string} text
 * @returns {(Node | string)[]}
 */
function unbroken(text) {
  return text
    .replace(/(\d) (?=%|mm)/g, '$1\u00a0')
    .split(/(\([^()]*\d[^()]*\))/)
    .map((piece) => (piece.startsWith('(') ? make('span', { className: 'whole', textContent: piece }) : piece));
}

/**
 * A drawing that came as SVG text from this workbench.
 * @param {string} svg
 */
function picture(svg) {
  const parsed = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  return document.importNode(parsed, true);
}
