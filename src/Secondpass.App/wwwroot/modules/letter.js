// Says that the letter is being made, and that it is made once.
for (const form of /** @type {NodeListOf<HTMLFormElement>} */ (document.querySelectorAll('form[data-busy]'))) {
  const button = /** @type {HTMLButtonElement} */ (form.querySelector('button[type="submit"]'));
  const said = button.textContent;
  form.addEventListener('submit', (event) => {
    if (button.getAttribute('aria-busy') === 'true') {
      event.preventDefault();
      return;
    }

    button.setAttribute('aria-busy', 'true');
    button.textContent = form.dataset.busy ?? said;
  });
  addEventListener('pageshow', () => {
    button.removeAttribute('aria-busy');
    button.textContent = said;
  });
}

// Films that are still being read: the page comes anew when they are.
const waiting = /** @type {HTMLElement | null} */ (document.querySelector('[data-waits-for]'));
if (waiting) {
  void fetch(waiting.dataset.waitsFor ?? '').then((answer) => {
    if (answer.ok) {
      location.reload();
    }
  }, () => {
    // The link beside it does the same by hand.
  });
}

export {};
