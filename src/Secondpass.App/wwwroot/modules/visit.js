// The running clock, and two taps of one finger counting once.

// A second tap that lands on the page that the first one brought is not meant for it.
const armedAfter = 700;

/** @param {number} milliseconds */
function clock(milliseconds) {
  const seconds = Math.max(0, Math.floor(milliseconds / 1000));
  const two = (/** @type {number} */ number) => String(number).padStart(2, '0');
  const hours = Math.floor(seconds / 3600);
  return `${hours > 0 ? `${hours}:${two(Math.floor(seconds / 60) % 60)}` : Math.floor(seconds / 60)}:${two(seconds % 60)}`;
}

const clocks = [.../** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll('[data-since]'))]
  .map((element) => ({ element, since: Date.parse(element.dataset.since ?? '') }));

function tick() {
  for (const { element, since } of clocks) {
    element.textContent = clock(Date.now() - since);
  }
}

tick();
setInterval(tick, 1000);

let sent = false;
for (const form of document.querySelectorAll('form[data-once]')) {
  form.addEventListener('submit', (event) => {
    if (sent || performance.now() < armedAfter) {
      event.preventDefault();
      return;
    }

    sent = true;
  });
}

// Going back shows a page that was kept: its forms can be sent again.
addEventListener('pageshow', () => {
  sent = false;
});

export {};
