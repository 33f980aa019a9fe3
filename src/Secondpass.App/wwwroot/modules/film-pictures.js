// Draws the films of a case where a page has a canvas for them.
import { readFilm, readPixels } from './api.js';
import { firstLook, render } from './film.js';

for (const canvas of /** @type {NodeListOf<HTMLCanvasElement>} */ (document.querySelectorAll('canvas[data-film]'))) {
  void draw(canvas, canvas.dataset.film ?? '');
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
    render(grey, first, first.window, false, canvas);
  } catch {
    canvas.ariaLabel = 'This film can’t be read any more.';
  }
}
