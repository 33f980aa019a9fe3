import { readPixels } from './api.js';
import { isTyping, part, setText } from './dom.js';
import { adjusted, firstLook, render } from './film.js';
import { readSetting } from './local.js';
import { LookingAids } from './looking-aids.js';
import { Viewer } from './viewer.js';

/**
 * @typedef {import('./film.js').Grey} Grey
 * @typedef {import('./film.js').Look} Look
 * @typedef {{ shown: import('./api.js').ShownFilm, grey: Grey, first: Look }} LoadedFilm
 * @typedef {{ grey: Grey, first: Look }} Picture something else that is shown in the film's place
 */

/** One film on the page: its canvas, and its tools for looking. */
export class FilmArea {
  /**
   * @param {HTMLElement} root
   * @param {string} name
   * @param {import('./viewer.js').Handlers} handlers
   * @param {(files: File[]) => void} chosen
   */
  constructor(root, name, handlers, chosen) {
    this.root = root;
    this.name = name;
    /** @type {LoadedFilm | null} */
    this.film = null;
    /** @type {Picture | null} */
    this.instead = null;
    /** @type {HTMLCanvasElement | null} */
    this.insteadDrawn = null;
    this.inverted = false;
    this.original = false;
    this.originalKept = false;
    /** The frame in which it is drawn anew, 0 for none. */
    this.asked = 0;
    this.rendered = document.createElement('canvas');
    /** The picture that stands for the film until it is drawn. */
    this.firstLook = /** @type {HTMLImageElement | null} */ (root.querySelector('[data-part=first-look]'));
    this.canvas = /** @type {HTMLCanvasElement} */ (root.querySelector('canvas'));
    this.viewer = new Viewer(this.canvas, {
      ...handlers,
      paint: (context, viewer) => {
        this.firstLook?.remove();
        if (!this.original) {
          handlers.paint(context, viewer);
        }
      },
      key: (event) => this.key(event) || handlers.key(event),
    });
    /** @type {LookingAids | null} */
    this.aids = null;
    this.brightness = /** @type {HTMLInputElement} */ (part(root, 'brightness'));
    this.contrast = /** @type {HTMLInputElement} */ (part(root, 'contrast'));
    this.localContrast = /** @type {HTMLInputElement} */ (part(root, 'local-contrast'));
    this.sharpness = /** @type {HTMLInputElement} */ (part(root, 'sharpness'));
    this.sliders = part(root, 'sliders');
    this.badge = part(root, 'badge');
    /** @type {Record<string, HTMLButtonElement>} */
    this.buttons = {};
    for (const name of ['out', 'fit', 'in', 'light', 'invert', 'original']) {
      this.buttons[name] = part(root, name);
    }
    this.buttons.out.addEventListener('click', () => this.viewer.zoomBy(0.75));
    this.buttons.in.addEventListener('click', () => this.viewer.zoomBy(4 / 3));
    this.buttons.fit.addEventListener('click', () => {
      this.viewer.fit();
      handlers.viewed(this.viewer);
    });
    this.buttons.invert.addEventListener('click', () => this.invert());
    this.buttons.original.addEventListener('click', () => this.showOriginal(!this.original, true));
    this.buttons.light.addEventListener('click', () => {
      this.sliders.hidden = !this.sliders.hidden;
      this.buttons.light.ariaExpanded = String(!this.sliders.hidden);
      this.buttons.light.ariaPressed = String(!this.sliders.hidden);
    });
    for (const slider of this.allSliders) {
      slider.addEventListener('input', () => this.refreshSoon());
    }
    part(root, 'reset').addEventListener('click', () => {
      this.resetSliders();
      this.refresh();
    });
    for (const name of ['choose', 'replace']) {
      const input = /** @type {HTMLInputElement} */ (part(root, name));
      input.addEventListener('change', () => {
        chosen([...(input.files ?? [])]);
        input.value = '';
      });
    }
    this.update();
  }

  /** @param {import('./api.js').ShownFilm} shown */
  async load(shown) {
    // Millions of values on their way would hold up the picture; without one there is nothing to wait for.
    await this.firstLook?.decode().catch(() => {});
    const grey = { width: shown.width, height: shown.height, greatest: shown.greatest_value, pixels: await readPixels(shown.id) };
    this.take({ shown, grey, first: firstLook(shown) });
  }

  /** @param {LoadedFilm | null} film */
  take(film) {
    this.film = film;
    this.instead = null;
    this.insteadDrawn = null;
    this.inverted = false;
    this.original = false;
    this.aids = null;
    this.resetSliders();
    this.update();
    this.refresh();
  }

  /**
   * Shows something else in the film's place; null shows the film again.
   * @param {Picture | null} picture through the window of the sliders
   * @param {HTMLCanvasElement | null} [drawn] as it is
   */
  showInstead(picture, drawn = null) {
    this.instead = picture;
    this.insteadDrawn = drawn;
    this.refresh();
  }

  /** Refreshes once a frame, however often a slider moves in it. */
  refreshSoon() {
    if (this.asked === 0) {
      this.asked = requestAnimationFrame(() => this.refresh());
    }
  }

  refresh() {
    cancelAnimationFrame(this.asked);
    this.asked = 0;
    const { film } = this;
    this.showBadge();
    if (!film) {
      this.viewer.show(null, 1, 1);
      return;
    }
    if (this.insteadDrawn && !this.original) {
      this.viewer.show(this.insteadDrawn, this.insteadDrawn.width, this.insteadDrawn.height);
      return;
    }
    const { grey, first } = this.original || !this.instead ? film : this.instead;
    const window = this.original ? first.window : adjusted(first.window, Number(this.brightness.value), Number(this.contrast.value));
    render(this.original ? grey : this.aided(grey), first, window, this.inverted && !this.original, this.rendered);
    this.viewer.show(this.rendered, grey.width, grey.height);
  }

  /** @param {Grey} grey */
  aided(grey) {
    if (this.aids?.film !== grey) {
      this.aids = new LookingAids(grey);
    }
    return this.aids.apply(Number(this.localContrast.value), Number(this.sharpness.value));
  }

  get allSliders() {
    return [this.brightness, this.contrast, this.localContrast, this.sharpness];
  }

  resetSliders() {
    for (const slider of this.allSliders) {
      slider.value = '0';
    }
  }

  /** Says what the eye could take for the film: that it is the original, or that it was sharpened. */
  showBadge() {
    const sharpened = this.film !== null && !this.insteadDrawn && this.sharpness.value !== '0';
    this.badge.hidden = !this.original && !sharpened;
    setText(this.badge, this.original ? 'Original' : sharpened ? 'Sharpened: a dark line along a filling may not be there' : '');
  }

  /** Whether the film itself is shown, not something in its place. */
  get showsOwnFilm() {
    return this.original || (!this.instead && !this.insteadDrawn);
  }

  invert() {
    this.inverted = !this.inverted;
    this.buttons.invert.ariaPressed = String(this.inverted);
    this.refresh();
  }

  /**
   * The film as its file means it to be seen, without anything drawn over it.
   * @param {boolean} on
   * @param {boolean} [kept] until it is asked for again, not only while a key is held
   */
  showOriginal(on, kept = false) {
    if (!this.film || this.original === on || (this.originalKept && !kept)) {
      return;
    }
    this.original = on;
    this.originalKept = on && kept;
    this.buttons.original.ariaPressed = String(on);
    this.refresh();
  }

  /**
   * @param {HTMLInputElement} slider stays within its own ends
   * @param {number} by
   */
  slide(slider, by) {
    slider.value = String(Number(slider.value) + by);
    this.refresh();
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    const sliders = /** @type {Record<string, HTMLInputElement | undefined>} */ ({
      b: this.brightness,
      c: this.contrast,
      l: this.localContrast,
      s: this.sharpness,
    });
    const key = event.key.toLowerCase();
    const slider = sliders[key];
    if (slider) {
      this.slide(slider, event.shiftKey ? -10 : 10);
    } else if (key === 'i') {
      this.invert();
    } else {
      return false;
    }
    return true;
  }

  update() {
    const there = this.film !== null;
    for (const button of Object.values(this.buttons)) {
      button.disabled = !there;
    }
    this.buttons.invert.ariaPressed = String(this.inverted);
    this.buttons.original.ariaPressed = String(this.original);
    this.root.classList.toggle('empty', !there);
    /** @type {HTMLElement} */ (this.root.querySelector('.drop')).hidden = there;
    /** @type {HTMLElement} */ (this.root.querySelector('.replace')).hidden = !there;
    this.canvas.tabIndex = there ? 0 : -1;
    this.canvas.ariaLabel = there
      ? `Film ${this.name}, ${this.film?.grey.width} by ${this.film?.grey.height} pixels`
      : `Film ${this.name}, none yet`;
  }
}

/**
 * While O is held, the films are shown as their files mean them to be seen, without anything drawn over them.
 * @param {FilmArea[]} areas
 */
export function originalByKey(areas) {
  /** @param {boolean} on */
  const show = (on) => areas.forEach((area) => area.showOriginal(on));
  document.addEventListener('keydown', (event) => {
    if (event.key.toLowerCase() === 'o' && !isTyping(event) && !event.ctrlKey && !event.metaKey && !event.altKey && readSetting('single-keys') !== 'off') {
      show(true);
    }
  });
  document.addEventListener('keyup', (event) => {
    if (event.key.toLowerCase() === 'o') {
      show(false);
    }
  });
  window.addEventListener('blur', () => show(false));
}
