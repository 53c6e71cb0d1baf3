import { PRINT } from './palette.ts';
import { element, type Sheet, svgElement } from './svg.ts';

/**
 * A whole drawing as one file, in the palette of print. `length` says how a length of the picture is written where it
 * shall not be in px.
 */
export const svgFile = (sheet: Sheet, length?: (px: number) => string | number): string =>
  `${svgElement(sheet, [element('style', {}, PRINT), element('rect', { class: 'ground', width: '100%', height: '100%' })], length)}\n`;
