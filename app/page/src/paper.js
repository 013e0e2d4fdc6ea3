// @ts-check
// What leaves the page: paper and files.
import { $, make } from './dom.js';

/** Lets the browser save a text under a name. @param {string} name @param {string} text @param {string} [type] */
export function download(name, text, type = 'application/json') {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = make('a', { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** Prints the pattern true to scale, a sheet of paper a page, and nothing else of this page.
 * @param {{ pages: string[], width_mm: number, height_mm: number }} pattern */
export function printPattern(pattern) {
  const sheets = $('sheets');
  sheets.textContent = '';
  for (const page of pattern.pages) {
    const sheet = make('div', { class: 'sheet', style: `width:${pattern.width_mm}mm;height:${pattern.height_mm}mm` });
    sheet.innerHTML = page;
    sheets.append(sheet);
  }
  const size = make('style', {}, `@page { size: ${pattern.width_mm}mm ${pattern.height_mm}mm; margin: 0; }`);
  document.head.append(size);
  document.documentElement.classList.add('printing-sheets');
  const after = () => {
    document.documentElement.classList.remove('printing-sheets');
    size.remove();
    sheets.textContent = '';
  };
  window.addEventListener('afterprint', after, { once: true });
  window.print();
}

/** Shows a page that the bench made (report, lesson, rating) over this one, to read, print or save.
 * @param {string} title @param {string} html @param {string} file */
export function showPage(title, html, file) {
  const dialog = /** @type {HTMLDialogElement} */ ($('reader'));
  const frame = make('iframe', { title, srcdoc: html });
  $('reader-title').textContent = title;
  $('reader-page').replaceChildren(frame);
  $('reader-print').onclick = () => frame.contentWindow.print();
  $('reader-save').onclick = () => download(file, html, 'text/html');
  dialog.addEventListener('close', () => $('reader-page').replaceChildren(), { once: true });
  dialog.showModal();
}
