// Says in words which tooth the digits mean, while they are typed: the same digits mean different teeth in other notations.
const field = /** @type {HTMLInputElement} */ (document.getElementById('tooth'));
const words = /** @type {HTMLElement} */ (document.getElementById('tooth-words'));
let asked = 0;

async function echo() {
  const mine = ++asked;
  const text = field.value.trim();
  if (text === '') {
    words.textContent = '';
    return;
  }

  try {
    const answer = await fetch(`/api/teeth?text=${encodeURIComponent(text)}`);
    const read = await answer.json();
    if (mine === asked) {
      words.textContent = answer.ok ? read.words : read.reason;
      words.classList.toggle('wrong', !answer.ok || read.other_notation);
    }
  } catch {
    // The form itself says what is wrong when it is sent.
  }
}

field.addEventListener('input', echo);
void echo();
