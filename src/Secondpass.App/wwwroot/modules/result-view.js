import { byId, make, setText } from './dom.js';

/**
 * Writes what came out into the page.
 * @param {import('./api.js').ShownComparison} comparison
 */
export function showResult(comparison) {
  byId('headlines').replaceChildren(...comparison.branches.map(headline));
  const patches = comparison.branches.filter((branch) => branch.kind !== 'refused');
  setText(
    byId('what-films-show'),
    patches.length === 0
      ? ''
      : `These films can't show residue smaller than ${[...new Set(patches.map((branch) => branch.smallest_patch))].join(', ')}, or what lies behind something dense.`,
  );
  byId('thirds').replaceChildren(...comparison.branches.map(row));
  byId('strips').replaceChildren(...comparison.branches.map((branch) => picture(branch.strip)));
  byId('legend').replaceChildren(picture(comparison.legend));
  const said = [...comparison.document.notices];
  byId('notices').replaceChildren(
    make('p', { className: 'quiet', textContent: `On the film after: ${comparison.state_words}. Scale: ${comparison.scale_words}.` }),
    ...said.map((text) => make('p', { className: 'quiet', textContent: text })),
  );
  /** @type {HTMLAnchorElement} */ (byId('sheet')).href = `/api/comparisons/${comparison.id}/sheet.pdf`;
}

/** @param {import('./api.js').ShownBranch} branch */
function headline(branch) {
  const name = branch.name;
  const rest = branch.headline.startsWith(name) ? branch.headline.slice(name.length) : `: ${branch.headline}`;
  const lines = [make('p', { className: 'headline' }, [make('strong', { textContent: name }), rest])];
  if (branch.remedy) {
    lines.push(make('p', { className: 'quiet', textContent: branch.remedy }));
  }
  return make('div', { className: `outcome ${branch.kind}` }, lines);
}

/** @param {import('./api.js').ShownBranch} branch */
function row(branch) {
  const cells = [0, 1, 2].map((third) => {
    const mass = branch.mass[third];
    const area = branch.area[third];
    return make('td', {}, mass === area ? [mass || '–'] : [mass || '–', make('small', { textContent: area })]);
  });
  return make('tr', {}, [make('th', { scope: 'row', textContent: branch.name }), ...cells]);
}

/**
 * A drawing that came as SVG text from this workbench.
 * @param {string} svg
 */
function picture(svg) {
  const parsed = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  return document.importNode(parsed, true);
}
