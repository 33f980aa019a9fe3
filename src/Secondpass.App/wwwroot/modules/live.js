// Parts of a page that change by themselves: asked for every other second, and put in anew when they did.

const everyMilliseconds = 2000;

// A tap that was meant for what stood there before is not meant for what stands there now.
const armedAfter = 700;
let replacedAt = -armedAfter;

addEventListener('click', (event) => {
  if (performance.now() - replacedAt < armedAfter && event.target instanceof Element && event.target.closest('[data-live]')) {
    event.preventDefault();
    event.stopPropagation();
  }
}, true);

/** @param {Element} part */
const isBusy = (part) =>
  [...part.querySelectorAll('input, textarea')].some((field) => field === document.activeElement)
  || [.../** @type {NodeListOf<HTMLInputElement>} */ (part.querySelectorAll('input[type=text], textarea'))].some((field) => field.value !== field.defaultValue);

/**
 * What was chosen or opened in a part stays so in the new one.
 * @param {Element} before
 * @param {Element} after
 */
function keepChoices(before, after) {
  for (const select of /** @type {NodeListOf<HTMLSelectElement>} */ (before.querySelectorAll('select[name]'))) {
    const same = /** @type {HTMLSelectElement | null} */ (after.querySelector(`select[name="${CSS.escape(select.name)}"]`));
    if (same && [...same.options].some((option) => option.value === select.value)) {
      same.value = select.value;
    }
  }
  const opened = [...before.querySelectorAll('details')].map((one) => one.open);
  after.querySelectorAll('details').forEach((one, place) => {
    one.open = opened[place] ?? one.open;
  });
}

async function look() {
  for (const part of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll('[data-live]'))) {
    const answer = await fetch(part.dataset.live ?? '');
    if (!answer.ok) {
      continue;
    }
    const { mark } = await answer.json();
    if (mark === part.dataset.mark || isBusy(part)) {
      continue;
    }
    const page = new DOMParser().parseFromString(await (await fetch(location.href)).text(), 'text/html');
    const fresh = page.querySelector(`[data-live="${part.dataset.live}"]`);
    if (fresh && !isBusy(part)) {
      const focused = part.contains(document.activeElement) ? /** @type {HTMLButtonElement} */ (document.activeElement) : null;
      keepChoices(part, fresh);
      part.replaceWith(document.importNode(fresh, true));
      replacedAt = performance.now();
      if (focused?.value) {
        /** @type {HTMLElement | null} */ (document.querySelector(`button[value="${CSS.escape(focused.value)}"]`))?.focus();
      }
    }
  }
}

async function goOn() {
  try {
    if (!document.hidden) {
      await look();
    }
  } catch {
    // Not reached just now: the next time may go well.
  }
  setTimeout(goOn, everyMilliseconds);
}

setTimeout(goOn, everyMilliseconds);

export {};
