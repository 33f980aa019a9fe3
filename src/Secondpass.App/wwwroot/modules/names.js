/**
 * The teeth of ISO 3950 in words, by quadrant as seen from the patient.
 * @type {{ name: string, teeth: string[] }[]}
 */
export const quadrants = [
  { name: 'upper right', teeth: ['11', '12', '13', '14', '15', '16', '17', '18'] },
  { name: 'upper left', teeth: ['21', '22', '23', '24', '25', '26', '27', '28'] },
  { name: 'lower left', teeth: ['31', '32', '33', '34', '35', '36', '37', '38'] },
  { name: 'lower right', teeth: ['41', '42', '43', '44', '45', '46', '47', '48'] },
];

const positions = [
  'central incisor', 'lateral incisor', 'canine', 'first premolar', 'second premolar',
  'first molar', 'second molar', 'third molar',
];

/**
 * A tooth in words, such as "upper right first molar"; empty for none.
 * @param {string} tooth
 */
export function toothInWords(tooth) {
  const quadrant = quadrants[Number(tooth[0]) - 1];
  const position = positions[Number(tooth[1]) - 1];
  return quadrant && position ? `${quadrant.name} ${position}` : '';
}

/**
 * The names that the canals of a tooth commonly have, in the order in which they are offered.
 * @param {string} tooth ISO 3950, or empty
 * @returns {string[]}
 */
export function canalNames(tooth) {
  const upper = tooth[0] === '1' || tooth[0] === '2';
  const position = Number(tooth[1]);
  if (!toothInWords(tooth)) {
    return ['Canal 1', 'Canal 2', 'Canal 3', 'Canal 4', 'Canal 5', 'Canal 6'];
  }
  if (position >= 6) {
    return upper ? ['MB1', 'DB', 'P', 'MB2', 'D', 'MB3'] : ['MB', 'ML', 'D', 'DB', 'DL', 'MM'];
  }
  if (position >= 4 && upper) {
    return ['B', 'P', 'MB', 'DB'];
  }
  return upper ? ['Canal', 'Canal 2'] : ['Canal', 'B', 'L'];
}
