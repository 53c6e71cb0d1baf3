import { micromark } from 'micromark';
import { gfmTable, gfmTableHtml } from 'micromark-extension-gfm-table';

/** Nothing of what is told is a link or a picture: a page loads nothing. Markup in it stays text, as is the library's rule. */
const NO_LINKS = { disable: { null: ['labelStartLink', 'labelStartImage', 'autolink'] } };

const htmlOf = (markdown: string): string =>
  micromark(markdown, { extensions: [gfmTable(), NO_LINKS], htmlExtensions: [gfmTableHtml()] });

/** The part of a page that tells of a cell. */
export interface Told {
  readonly element: HTMLElement;
  /** Where the first sentence is put for those who listen, once they have moved there: nobody wants a table read at each step. */
  readonly aloud: HTMLElement;
  tell(text: string, aloud?: boolean): void;
}

export function toldIn(): Told {
  const element = document.createElement('aside');
  element.tabIndex = 0;
  element.setAttribute('aria-label', 'What there is to tell');
  const said = document.createElement('div');
  said.className = 'aloud';
  said.setAttribute('role', 'status');
  let told = '';
  return {
    element,
    aloud: said,
    tell(text, aloud = false) {
      if (text !== told) {
        told = text;
        element.innerHTML = htmlOf(text);
        element.scrollTop = 0;
      }
      if (aloud) said.textContent = element.firstElementChild?.textContent ?? '';
    },
  };
}
