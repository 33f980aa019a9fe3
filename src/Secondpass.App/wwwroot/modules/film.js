/**
 * @typedef {{ width: number, height: number, greatest: number, pixels: Uint16Array }} Grey a grey picture
 * @typedef {{ black: number, white: number }} Window
 * @typedef {{ window: Window, shades: Uint8Array | null }} Look how a film is shown at first; shades: of each grey value, null for a straight line through the window
 */

/**
 * How a film is shown at first: with the curve of shades that its file asks for, or straight through the first window.
 * @param {{ first_window: [number, number], shown_curve: string | null }} asked
 * @returns {Look}
 */
export function firstLook({ first_window: [black, white], shown_curve: curve }) {
  return { window: { black, white }, shades: curve === null ? null : Uint8Array.from(atob(curve), (letter) => letter.charCodeAt(0)) };
}

/**
 * @param {Uint32Array} counts
 * @param {number} wanted
 */
function rank(counts, wanted) {
  let sum = 0;
  for (let value = 0; value < counts.length; value++) {
    sum += counts[value];
    if (sum > wanted) {
      return value;
    }
  }
  return counts.length - 1;
}

/**
 * The window after brightness and contrast were moved, each from −100 to 100.
 * @param {Window} window
 * @param {number} brightness
 * @param {number} contrast
 * @returns {Window}
 */
export function adjusted(window, brightness, contrast) {
  const width = window.white - window.black;
  const middle = (window.white + window.black) / 2 - (brightness / 100) * width;
  const half = (width / 2) * 2 ** (-contrast / 40);
  return { black: middle - half, white: middle + half };
}

/**
 * Draws a grey picture through a window. Where the first look was a curve, its shades are pushed together or pulled apart with the window.
 * @param {Grey} film
 * @param {Look} first
 * @param {Window} window
 * @param {boolean} inverted
 * @param {HTMLCanvasElement} [target] made when it is missing
 */
export function render(film, first, window, inverted, target = document.createElement('canvas')) {
  const table = new Uint32Array(film.greatest + 1);
  const span = Math.max(1e-6, window.white - window.black);
  const { shades } = first;
  const firstSpan = first.window.white - first.window.black;
  for (let value = 0; value < table.length; value++) {
    const share = (value - window.black) / span;
    const place = Math.round(Math.min(film.greatest, Math.max(0, first.window.black + share * firstSpan)));
    const shade = shades ? shades[place] : Math.round(255 * Math.min(1, Math.max(0, share)));
    const grey = inverted ? 255 - shade : shade;
    table[value] = 0xff000000 | (grey << 16) | (grey << 8) | grey;
  }
  return draw(film.width, film.height, target, (shown) => {
    const { pixels } = film;
    for (let i = 0; i < pixels.length; i++) {
      shown[i] = table[pixels[i]];
    }
  });
}

/**
 * What the film after, laid over the film before, has less (darker) or more (lighter) than it: mid grey is no difference.
 * @param {Grey} before
 * @param {Grey} after in the frame of the film before; 0 where it shows nothing
 */
export function renderDifference(before, after) {
  const counts = new Uint32Array(before.greatest + 1);
  let seen = 0;
  for (let i = 0; i < before.pixels.length; i++) {
    if (after.pixels[i] > 0) {
      counts[Math.min(before.greatest, Math.abs(after.pixels[i] - before.pixels[i]))]++;
      seen++;
    }
  }
  const full = Math.max(1, rank(counts, seen * 0.998));
  return draw(before.width, before.height, document.createElement('canvas'), (shown) => {
    for (let i = 0; i < shown.length; i++) {
      const difference = after.pixels[i] === 0 ? 0 : (after.pixels[i] - before.pixels[i]) / full;
      const grey = Math.round(128 + 127 * Math.min(1, Math.max(-1, difference)));
      shown[i] = 0xff000000 | (grey << 16) | (grey << 8) | grey;
    }
  });
}

/**
 * @param {number} width
 * @param {number} height
 * @param {HTMLCanvasElement} target
 * @param {(shown: Uint32Array) => void} fill
 */
function draw(width, height, target, fill) {
  target.width = width;
  target.height = height;
  const context = /** @type {CanvasRenderingContext2D} */ (target.getContext('2d'));
  const image = context.createImageData(width, height);
  fill(new Uint32Array(image.data.buffer));
  context.putImageData(image, 0, 0);
  return target;
}
