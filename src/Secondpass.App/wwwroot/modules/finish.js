// Warns of irrigants that should not meet, while they are listed.
const lines = /** @type {HTMLElement} */ (document.getElementById('irrigant-lines'));
const warnings = /** @type {HTMLElement} */ (document.getElementById('irrigant-warnings'));
let asked = 0;

/**
 * @param {string} text
 * @param {string} [name]
 */
function paragraph(text, name) {
  const line = document.createElement('p');
  if (name) {
    line.className = name;
  }

  line.textContent = text;
  return line;
}

async function warn() {
  const mine = ++asked;
  const names = [.../** @type {NodeListOf<HTMLInputElement>} */ (lines.querySelectorAll('[data-irrigant]'))].map((input) => input.value);
  try {
    const answer = await fetch(`/api/irrigants?${new URLSearchParams(names.map((name) => ['name', name]))}`);
    if (!answer.ok || mine !== asked) {
      return;
    }

    /** @type {{ first: string, second: string, happens: string, remedy: string, rests_on: string }[]} */
    const found = await answer.json();
    warnings.replaceChildren(...found.map((one) => {
      const box = document.createElement('div');
      box.className = 'warning';
      const first = paragraph('');
      const pair = document.createElement('strong');
      pair.textContent = `${one.first}, then ${one.second}. `;
      first.append(pair, one.happens);
      box.append(first, paragraph(one.remedy), paragraph(one.rests_on, 'quiet'));
      return box;
    }));
  } catch {
    // Keeping the note shows them too.
  }
}

lines.addEventListener('input', (event) => {
  if (event.target instanceof HTMLInputElement && 'irrigant' in event.target.dataset) {
    void warn();
  }
});

export {};
