/**
 * @typedef {import('./marks.js').Point} Point
 * @typedef {import('./marks.js').Canal} Canal
 * @typedef {import('./api.js').TracedBranch} TracedBranch
 */

/** Ink on films: each is told from the others by its line, not by its colour. */
export const ink = { line: '#ffffff', halo: 'rgba(0, 0, 0, 0.75)', residue: '#ffb81c', filling: '#96d7ff' };

/**
 * A line with a dark rim, so that it is seen on light and dark film alike.
 * @param {CanvasRenderingContext2D} context in film pixels
 * @param {Path2D} path
 * @param {{ zoom: number, colour: string, width: number, dash?: number[] }} how widths and dashes in pixels of the screen
 */
export function stroke(context, path, { zoom, colour, width, dash = [] }) {
  context.lineCap = dash.length > 0 ? 'butt' : 'round';
  context.lineJoin = 'round';
  context.setLineDash([]);
  context.strokeStyle = ink.halo;
  context.lineWidth = (width + 1.5) / zoom;
  if (dash.length > 0) {
    context.setLineDash(dash.map((length) => length / zoom));
  }
  context.stroke(path);
  context.strokeStyle = colour;
  context.lineWidth = width / zoom;
  context.stroke(path);
  context.setLineDash([]);
}

/** @param {Point[]} points */
export function line(points) {
  const path = new Path2D();
  points.forEach(({ x, y }, index) => (index === 0 ? path.moveTo(x, y) : path.lineTo(x, y)));
  return path;
}

/**
 * A traced branch: its middle line, and thin broken lines where the filling's edges are seen.
 * @param {CanvasRenderingContext2D} context
 * @param {number} zoom
 * @param {TracedBranch} branch
 * @param {{ selected: boolean, stale: boolean }} how
 */
export function paintBranch(context, zoom, branch, { selected, stale }) {
  paintBand(context, branch.band ?? []);
  for (const run of branch.edges) {
    const edges = new Path2D();
    for (const [at, next] of /** @type {[number, number][]} */ ([[0, 1], [2, 3]])) {
      run.forEach((row, index) => (index === 0 ? edges.moveTo(row[at], row[next]) : edges.lineTo(row[at], row[next])));
    }
    stroke(context, edges, { zoom, colour: ink.filling, width: 1, dash: [4, 3] });
  }
  const path = line(branch.path.map(([x, y]) => ({ x, y })));
  stroke(context, path, { zoom, colour: ink.line, width: selected ? 2.5 : 1.5, dash: stale ? [2, 4] : [] });
}

/**
 * Where the canal's middle may run, as a faint band below its line.
 * @param {CanvasRenderingContext2D} context
 * @param {[number, number, number, number][]} band
 */
function paintBand(context, band) {
  if (band.length < 2) {
    return;
  }
  const area = new Path2D();
  band.forEach(([x, y], index) => (index === 0 ? area.moveTo(x, y) : area.lineTo(x, y)));
  [...band].reverse().forEach((row) => area.lineTo(row[2], row[3]));
  context.save();
  context.globalAlpha = 0.25;
  context.fillStyle = ink.line;
  context.fill(area);
  context.restore();
}

/**
 * A ring round material that the film before doesn't show, with the word beside it.
 * @param {CanvasRenderingContext2D} context
 * @param {number} zoom
 * @param {Point} at
 */
export function paintNew(context, zoom, at) {
  const ring = new Path2D();
  ring.arc(at.x, at.y, 16 / zoom, 0, 2 * Math.PI);
  stroke(context, ring, { zoom, colour: ink.line, width: 2 });
  paintWord(context, zoom, { x: at.x + 36 / zoom, y: at.y + 17 / zoom }, 'new', { bold: true });
}

/**
 * A mark: a ring for a soft one, a filled square for a hard one, an open square for a canal's end, a ring with a dot for its orifice.
 * @param {CanvasRenderingContext2D} context
 * @param {number} zoom
 * @param {Point & { hard?: boolean }} at
 * @param {'orifice' | 'end' | 'between'} kind
 * @param {boolean} selected
 */
export function paintPin(context, zoom, at, kind, selected) {
  const size = (kind === 'between' ? 4.5 : 6) / zoom;
  const path = new Path2D();
  if (at.hard || kind === 'end') {
    path.rect(at.x - size, at.y - size, 2 * size, 2 * size);
  } else {
    path.arc(at.x, at.y, size, 0, 2 * Math.PI);
  }
  if (at.hard) {
    context.fillStyle = ink.line;
    context.fill(path);
  }
  stroke(context, path, { zoom, colour: ink.line, width: selected ? 2.5 : 1.5 });
  if (kind === 'orifice' && !at.hard) {
    const dot = new Path2D();
    dot.arc(at.x, at.y, 1.5 / zoom, 0, 2 * Math.PI);
    stroke(context, dot, { zoom, colour: ink.line, width: 1.5 });
  }
}

/**
 * A word beside a place, upright and of the same size at every zoom.
 * @param {CanvasRenderingContext2D} context
 * @param {number} zoom
 * @param {Point} at
 * @param {string} text
 * @param {{ bold?: boolean, above?: boolean }} [how]
 */
export function paintWord(context, zoom, at, text, { bold = false, above = true } = {}) {
  context.save();
  context.translate(at.x, at.y);
  context.scale(1 / zoom, 1 / zoom);
  context.font = `${bold ? 700 : 500} 14px "Atkinson Hyperlegible Next", sans-serif`;
  context.textAlign = 'center';
  context.textBaseline = above ? 'bottom' : 'top';
  context.lineJoin = 'round';
  context.lineWidth = 4;
  context.strokeStyle = 'rgba(0, 0, 0, 0.85)';
  context.fillStyle = ink.line;
  const y = above ? -11 : 11;
  context.strokeText(text, 0, y);
  context.fillText(text, 0, y);
  context.restore();
}

/**
 * The marks of canals, each told by its kind.
 * @param {CanvasRenderingContext2D} context
 * @param {number} zoom
 * @param {Canal[]} canals
 * @param {number | null} selected key of the selected one
 */
export function paintPins(context, zoom, canals, selected) {
  for (const canal of canals) {
    canal.pins.forEach((pin, index) => {
      const kind = index === 0 ? 'orifice' : index === canal.pins.length - 1 ? 'end' : 'between';
      paintPin(context, zoom, pin, kind, canal.key === selected);
    });
  }
}

/**
 * Each canal's name beyond its end. Of canals that end close together the later name stands beyond the earlier one.
 * @param {CanvasRenderingContext2D} context in pixels of the film that they are marked on
 * @param {number} zoom
 * @param {Canal[]} canals
 * @param {number | null} selected key of the selected one
 */
export function paintNames(context, zoom, canals, selected) {
  /** @type {Point[]} */
  const words = [];
  for (const canal of canals) {
    const end = canal.pins[canal.pins.length - 1];
    const up = end.y < canal.pins[0].y;
    const at = { ...end };
    while (words.some((other) => Math.abs(other.x - at.x) * zoom < 56 && Math.abs(other.y - at.y) * zoom < 17)) {
      at.y += (up ? -17 : 17) / zoom;
    }
    words.push(at);
    paintWord(context, zoom, at, canal.name, { bold: canal.key === selected, above: up });
  }
}

/**
 * A thing marked on both films: a numbered cross in a ring.
 * @param {CanvasRenderingContext2D} context
 * @param {number} zoom
 * @param {Point} at
 * @param {string} word
 */
export function paintLandmark(context, zoom, at, word) {
  const long = 11 / zoom;
  const path = new Path2D();
  path.moveTo(at.x - long, at.y);
  path.lineTo(at.x + long, at.y);
  path.moveTo(at.x, at.y - long);
  path.lineTo(at.x, at.y + long);
  path.moveTo(at.x + 0.6 * long, at.y);
  path.arc(at.x, at.y, 0.6 * long, 0, 2 * Math.PI);
  stroke(context, path, { zoom, colour: ink.line, width: 1.5 });
  paintWord(context, zoom, at, word);
}

/**
 * What is left: outlined and hatched. Patches too small to be sure of: thinly dotted, not hatched. What these films can't tell:
 * dotted outline, hatched the other way. The old filling: broken outline.
 * @param {CanvasRenderingContext2D} context in film pixels
 * @param {import('./viewer.js').Viewer} viewer
 * @param {{ left: Path2D, faint: Path2D, unclear: Path2D, filling: Path2D }} outlines
 */
export function paintResidue(context, viewer, { left, faint, unclear, filling }) {
  const { zoom } = viewer;
  stroke(context, filling, { zoom, colour: ink.filling, width: 1, dash: [5, 4] });
  hatch(context, viewer, unclear, -1, ink.line, 8);
  stroke(context, unclear, { zoom, colour: ink.line, width: 1.25, dash: [1.5, 3] });
  stroke(context, faint, { zoom, colour: ink.residue, width: 1, dash: [1, 2.5] });
  hatch(context, viewer, left, 1, ink.residue, 6);
  stroke(context, left, { zoom, colour: ink.residue, width: 1.5 });
}

/**
 * Slanting lines inside a region, at the same distance on the screen at every zoom.
 * @param {CanvasRenderingContext2D} context
 * @param {import('./viewer.js').Viewer} viewer
 * @param {Path2D} region
 * @param {1 | -1} slant
 * @param {string} colour
 * @param {number} pitch in pixels of the screen
 */
function hatch(context, viewer, region, slant, colour, pitch) {
  context.save();
  context.clip(region, 'evenodd');
  const { clientWidth, clientHeight } = viewer.canvas;
  const lines = new Path2D();
  const step = pitch * Math.SQRT2;
  for (let across = -clientHeight - clientWidth; across < clientWidth + clientHeight; across += step) {
    const from = viewer.toFilm({ x: across, y: slant > 0 ? clientHeight : 0 });
    const to = viewer.toFilm({ x: across + clientHeight, y: slant > 0 ? 0 : clientHeight });
    lines.moveTo(from.x, from.y);
    lines.lineTo(to.x, to.y);
  }
  context.setLineDash([]);
  context.strokeStyle = colour;
  context.lineWidth = 1.2 / viewer.zoom;
  context.stroke(lines);
  context.restore();
}
