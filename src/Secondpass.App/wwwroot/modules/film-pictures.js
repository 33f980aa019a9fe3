// Draws the films of a case where a page has a canvas for them: small, and one after another, so that many large films are never in memory at once.
import { readFilm, readPixels } from './api.js';
import { firstLook, render } from './film.js';

/** Pixels of the longer side: twice what a page shows of it. */
const longestSide = 960;

const whole = document.createElement('canvas');
for (const canvas of /** @type {NodeListOf<HTMLCanvasElement>} */ (document.querySelectorAll('canvas[data-film]'))) {
  await draw(canvas, canvas.dataset.film ?? '');
}

/**
 * @param {HTMLCanvasElement} canvas
 * @param {string} id
 */
async function draw(canvas, id) {
  try {
    const shown = await readFilm(id);
    const grey = { width: shown.width, height: shown.height, greatest: shown.greatest_value, pixels: await readPixels(id) };
    const first = firstLook(grey, shown);
    render(grey, first, first.window, false, whole);
    const share = Math.min(1, longestSide / Math.max(grey.width, grey.height));
    canvas.width = Math.round(grey.width * share);
    canvas.height = Math.round(grey.height * share);
    const context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d'));
    context.imageSmoothingQuality = 'high';
    context.drawImage(whole, 0, 0, canvas.width, canvas.height);
  } catch {
    canvas.ariaLabel = 'This film can’t be read any more.';
  }
}
