// @ts-check
// Bags to begin with: the examples of the program, as they are.
import carryTest125 from '../../../scenes/examples/carry-test-125.json';
import carryTest300 from '../../../scenes/examples/carry-test-300.json';
import demo from '../../../scenes/examples/demo.json';
import gussetBooks from '../../../scenes/examples/gusset-books.json';
import gussetGrain from '../../../scenes/examples/gusset-grain.json';
import lesson1 from '../../../scenes/examples/lesson-1-fusible.json';
import lesson2 from '../../../scenes/examples/lesson-2-stabilizer.json';
import lesson3 from '../../../scenes/examples/lesson-3-base.json';
import liftTest20 from '../../../scenes/examples/lift-test-20.json';
import quiltedPocket from '../../../scenes/examples/quilted-pocket.json';
import roundedShoulder from '../../../scenes/examples/rounded-shoulder.json';
import sack from '../../../scenes/examples/sack.json';
import sheetBase from '../../../scenes/examples/sheet-base.json';
import sheetCantilever from '../../../scenes/examples/sheet-cantilever.json';
import sheetStrap from '../../../scenes/examples/sheet-strap.json';
import studyDay from '../../../scenes/examples/study-day.json';
import suede from '../../../scenes/examples/suede.json';
import whichBase from '../../../scenes/examples/which-base.json';
import whichStabilizer from '../../../scenes/examples/which-stabilizer.json';

/** @typedef {{ name: string, text: string, words: string }} Start */
/** @type {Start[]} */
export const STARTS = [
  { name: 'Market tote', text: demo, words: 'Boxed corners, stabilizer, a base stitched in. 16 by 14 by 6 in, 8 kg.' },
  { name: 'Book carrier', text: gussetBooks, words: 'Duck with a separate bottom and sides, wide webbing. 16 by 13 by 7 in, five picture books, 8 kg.' },
  { name: 'Shoulder bag', text: roundedShoulder, words: 'Wide and slouchy, rounded corners, one strap. Limp: takes some minutes.' },
  { name: 'Flat sack', text: sack, words: 'Two panels of twill, nothing else. 38 by 42 cm. Limp: takes some minutes.' },
];
/** @type {string[]} */
export const LESSON = [lesson1, lesson2, lesson3];
/** @type {[string, string][]} */
export const EXAMPLES = [
  ['carry-test-125', carryTest125], ['carry-test-300', carryTest300], ['demo', demo], ['gusset-books', gussetBooks],
  ['gusset-grain', gussetGrain], ['lesson-1-fusible', lesson1], ['lesson-2-stabilizer', lesson2], ['lesson-3-base', lesson3],
  ['lift-test-20', liftTest20], ['quilted-pocket', quiltedPocket], ['rounded-shoulder', roundedShoulder], ['sack', sack],
  ['sheet-base', sheetBase], ['sheet-cantilever', sheetCantilever], ['sheet-strap', sheetStrap], ['study-day', studyDay],
  ['suede', suede], ['which-base', whichBase], ['which-stabilizer', whichStabilizer],
];
