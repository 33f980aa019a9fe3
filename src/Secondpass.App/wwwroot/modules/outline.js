/**
 * The outlines of a region of pixels, as closed loops through the middles of its pixels' outer sides.
 * @param {number} width
 * @param {number} height
 * @param {(index: number) => boolean} inside whether a pixel, counted row by row, belongs to the region
 * @returns {Path2D} in pixels of the picture, (0, 0) the centre of its top left pixel
 */
export function outline(width, height, inside) {
  const corners = width + 1;
  /** @type {Map<number, number[]>} */
  const sides = new Map();
  /** @param {number} from @param {number} to */
  const add = (from, to) => {
    const ways = sides.get(from);
    if (ways) {
      ways.push(to);
    } else {
      sides.set(from, [to]);
    }
  };
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const index = y * width + x;
      if (!inside(index)) {
        continue;
      }
      const corner = y * corners + x;
      if (y === 0 || !inside(index - width)) {
        add(corner, corner + 1);
      }
      if (x === width - 1 || !inside(index + 1)) {
        add(corner + 1, corner + 1 + corners);
      }
      if (y === height - 1 || !inside(index + width)) {
        add(corner + 1 + corners, corner + corners);
      }
      if (x === 0 || !inside(index - 1)) {
        add(corner + corners, corner);
      }
    }
  }
  const path = new Path2D();
  for (const [start, ways] of sides) {
    while (ways.length > 0) {
      /** @type {number[]} */
      const loop = [];
      let at = start;
      do {
        loop.push(at);
        at = /** @type {number} */ (/** @type {number[]} */ (sides.get(at)).pop());
      } while (at !== start);
      trace(path, loop, corners);
    }
  }
  return path;
}

/**
 * @param {Path2D} path
 * @param {number[]} loop
 * @param {number} corners
 */
function trace(path, loop, corners) {
  for (let i = 0; i < loop.length; i++) {
    const from = loop[i];
    const to = loop[(i + 1) % loop.length];
    const x = ((from % corners) + (to % corners)) / 2 - 0.5;
    const y = (Math.floor(from / corners) + Math.floor(to / corners)) / 2 - 0.5;
    if (i === 0) {
      path.moveTo(x, y);
    } else {
      path.lineTo(x, y);
    }
  }
  path.closePath();
}
