/**
 * A setting of this browser.
 * @param {string} name
 * @returns {string | null}
 */
export function readSetting(name) {
  try {
    return localStorage.getItem(name);
  } catch {
    return null;
  }
}

/**
 * Keeps a setting in this browser; null forgets it.
 * @param {string} name
 * @param {string | null} value
 */
export function writeSetting(name, value) {
  try {
    if (value === null) {
      localStorage.removeItem(name);
    } else {
      localStorage.setItem(name, value);
    }
  } catch {
    // A browser that keeps nothing works all the same.
  }
}

/**
 * Something kept for this tab only, so that a reload loses nothing.
 * @param {string} name
 * @returns {unknown}
 */
export function readTab(name) {
  try {
    return JSON.parse(sessionStorage.getItem(name) ?? 'null');
  } catch {
    return null;
  }
}

/**
 * @param {string} name
 * @param {unknown} value null forgets it
 */
export function writeTab(name, value) {
  try {
    if (value === null) {
      sessionStorage.removeItem(name);
    } else {
      sessionStorage.setItem(name, JSON.stringify(value));
    }
  } catch {
    // As above.
  }
}
