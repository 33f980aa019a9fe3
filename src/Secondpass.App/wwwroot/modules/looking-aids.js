/** @typedef {import('./film.js').Grey} Grey */

/** Deviation in pixels of the surroundings that sharpening holds a pixel against: about 0.04 mm of an intra-oral film. */
const closeBy = Math.SQRT2;

/** Deviation of the surroundings of local contrast, as a share of the film's shorter side: about 2 mm of an intra-oral film. */
const roundAbout = 1 / 15;

/** A film made easier to look at. Its own greys are kept: nothing is measured on what comes out. */
export class LookingAids {
  /** @param {Grey} film */
  constructor(film) {
    this.film = film;
    /** @type {Float32Array | null} */
    this.close = null;
    /** @type {Float32Array | null} */
    this.round = null;
    /** @type {Uint16Array | null} */
    this.aided = null;
    this.mean = 0;
  }

  /**
   * The film with what is fine brought forward; the film itself where neither is asked for.
   * @param {number} localContrast 0 to 100: differences from the surroundings are strengthened, those between far places weakened
   * @param {number} sharpness 0 to 100: differences from the next pixels are strengthened, noise among them
   * @returns {Grey}
   */
  apply(localContrast, sharpness) {
    if (localContrast === 0 && sharpness === 0) {
      return this.film;
    }
    const { pixels, width, height, greatest } = this.film;
    // An aid that isn't asked for counts nought, so that any greys do in the place of its surroundings.
    const round = localContrast === 0 ? pixels : (this.round ??= this.blurredRound());
    const close = sharpness === 0 ? pixels : (this.close ??= blurred(this.film, closeBy));
    const aided = (this.aided ??= new Uint16Array(pixels.length));
    const far = 1 - 0.006 * localContrast;
    const near = 1 + 0.02 * localContrast;
    const sharp = 0.03 * sharpness;
    const lifted = this.mean * (1 - far) + 0.5;
    for (let i = 0; i < pixels.length; i++) {
      const value = lifted + far * round[i] + near * (pixels[i] - round[i]) + sharp * (pixels[i] - close[i]);
      aided[i] = value < 0 ? 0 : value > greatest ? greatest : value;
    }
    return { width, height, greatest, pixels: aided };
  }

  blurredRound() {
    const { width, height, pixels } = this.film;
    let sum = 0;
    for (const value of pixels) {
      sum += value;
    }
    this.mean = sum / pixels.length;
    return blurred(this.film, Math.min(width, height) * roundAbout);
  }
}

/**
 * A film blurred by three running means each way, which is nearly a Gaussian; beyond its sides its last pixels go on.
 * @param {Grey} film
 * @param {number} deviation in pixels
 */
function blurred({ width, height, pixels }, deviation) {
  const reach = Math.max(1, Math.round((Math.sqrt(4 * deviation * deviation + 1) - 1) / 2));
  let from = Float32Array.from(pixels);
  let to = new Float32Array(from.length);
  for (let pass = 0; pass < 3; pass++) {
    alongRows(from, to, width, height, reach);
    downColumns(to, from, width, height, reach);
  }
  return from;
}

/**
 * @param {Float32Array} from
 * @param {Float32Array} to
 * @param {number} width
 * @param {number} height
 * @param {number} reach pixels to either side
 */
function alongRows(from, to, width, height, reach) {
  const share = 1 / (2 * reach + 1);
  for (let row = 0; row < height; row++) {
    const first = row * width;
    const last = first + width - 1;
    let sum = from[first] * reach;
    for (let i = 0; i <= reach; i++) {
      sum += from[Math.min(last, first + i)];
    }
    for (let i = first; i <= last; i++) {
      to[i] = sum * share;
      sum += from[Math.min(last, i + reach + 1)] - from[Math.max(first, i - reach)];
    }
  }
}

/**
 * @param {Float32Array} from
 * @param {Float32Array} to
 * @param {number} width
 * @param {number} height
 * @param {number} reach pixels to either side
 */
function downColumns(from, to, width, height, reach) {
  const share = 1 / (2 * reach + 1);
  /** @param {number} row */
  const start = (row) => Math.min(height - 1, Math.max(0, row)) * width;
  const sums = new Float64Array(width);
  for (let row = -reach; row <= reach; row++) {
    const at = start(row);
    for (let x = 0; x < width; x++) {
      sums[x] += from[at + x];
    }
  }
  for (let row = 0; row < height; row++) {
    const at = row * width;
    const [comes, goes] = [start(row + reach + 1), start(row - reach)];
    for (let x = 0; x < width; x++) {
      to[at + x] = sums[x] * share;
      sums[x] += from[comes + x] - from[goes + x];
    }
  }
}
