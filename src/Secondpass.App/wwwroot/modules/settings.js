import { readSetting, writeSetting } from './local.js';

for (const radio of /** @type {NodeListOf<HTMLInputElement>} */ (document.querySelectorAll('input[name=theme]'))) {
  radio.checked = radio.value === (readSetting('theme') ?? 'system');
  radio.addEventListener('change', () => {
    if (radio.value === 'system') {
      writeSetting('theme', null);
      delete document.documentElement.dataset.theme;
    } else {
      writeSetting('theme', radio.value);
      document.documentElement.dataset.theme = radio.value;
    }
  });
}

const singleKeys = /** @type {HTMLInputElement} */ (document.getElementById('single-keys'));
singleKeys.checked = readSetting('single-keys') !== 'off';
singleKeys.addEventListener('change', () => writeSetting('single-keys', singleKeys.checked ? null : 'off'));
