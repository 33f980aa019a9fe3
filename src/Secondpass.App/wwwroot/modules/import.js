// The button of an import says how many films it stores, as cases are chosen for them.

function count() {
  const button = document.querySelector('button[data-part=import]');
  const cases = [.../** @type {NodeListOf<HTMLSelectElement>} */ (document.querySelectorAll('select[data-part=case]'))];
  const films = cases.filter((select) => select.value !== '').length;
  const text = films === 1 ? 'Import 1 film' : `Import ${films} films`;
  if (button && button.textContent !== text) {
    button.textContent = text;
  }
}

count();
document.addEventListener('change', count);

// The table is put in by another script once all files were looked at.
new MutationObserver(count).observe(document.body, { childList: true, subtree: true });

export {};
