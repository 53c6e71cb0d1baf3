import { micromark } from 'micromark';
import { gfmTable, gfmTableHtml } from 'micromark-extension-gfm-table';

/** Nothing of what is told is a link or a picture: a page loads nothing. Markup in it stays text, as is the library's rule. */
const NO_LINKS = { disable: { null: ['labelStartLink', 'labelStartImage', 'autolink'] } };

const htmlOf = (markdown: string): string =>
  micromark(markdown, { extensions: [gfmTable(), NO_LINKS], htmlExtensions: [gfmTableHtml()] });

/** The part of a page that tells of a cell. */
export function toldIn(): { readonly element: HTMLElement; tell(text: string): void } {
  const element = document.createElement('aside');
  element.tabIndex = 0;
  element.setAttribute('aria-label', 'What there is to tell');
  element.setAttribute('aria-live', 'polite');
  let told = '';
  return {
    element,
    tell(text) {
      if (text === told) return;
      told = text;
      element.innerHTML = htmlOf(text);
      element.scrollTop = 0;
    },
  };
}
