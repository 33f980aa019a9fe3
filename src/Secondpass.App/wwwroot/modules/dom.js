/**
 * An element that the page is known to hold.
 * @template {HTMLElement} [T=HTMLElement]
 * @param {string} id
 * @returns {T}
 */
export const byId = (id) => /** @type {T} */ (document.getElementById(id));

/**
 * A part of an element, by its data-part.
 * @template {HTMLElement} [T=HTMLElement]
 * @param {ParentNode} root
 * @param {string} name
 * @returns {T}
 */
export const part = (root, name) => /** @type {T} */ (root.querySelector(`[data-part="${name}"]`));

/**
 * A new element.
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} tag
 * @param {Partial<HTMLElementTagNameMap[K]>} [members]
 * @param {(Node | string)[]} [children]
 * @returns {HTMLElementTagNameMap[K]}
 */
export function make(tag, members = {}, children = []) {
  const element = Object.assign(document.createElement(tag), members);
  element.append(...children);
  return element;
}

/**
 * Sets a text only where it changes, so that screen readers don't say it again.
 * @param {HTMLElement} element
 * @param {string} text
 */
export function setText(element, text) {
  if (element.textContent !== text) {
    element.textContent = text;
  }
}

/**
 * Whether a field takes the keys itself, so that none of the page's own keys acts.
 * @param {KeyboardEvent} event
 */
export const isTyping = ({ target }) =>
  target instanceof HTMLElement && target.matches('input:not([type=range], [type=radio], [type=checkbox], [type=file]), select, textarea');

/**
 * Gives a list of choices to a select, only where they change.
 * @param {HTMLSelectElement} select
 * @param {string[]} values
 * @param {string} chosen
 */
export function setChoices(select, values, chosen) {
  if ([...select.options].map((option) => option.value).join('\n') !== values.join('\n')) {
    select.replaceChildren(...values.map((value) => make('option', { value, textContent: value })));
  }
  select.value = chosen;
}
