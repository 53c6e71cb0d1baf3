// What is saved of a drawing, and what the page shows of it, is the picture that the command line draws.
import { execFileSync } from 'node:child_process';
import { expect, it } from 'vitest';
import { readSvg } from '../support/svg.ts';
import { drawingPage } from './support/drawing.ts';
import { editorSuite } from './support/suite.ts';

editorSuite('a drawing that is kept', (editor) => {
  const page = drawingPage(editor);
  const FILE = 'tide-gauge/as-found.pinout';

  /** What the command line prints for the same machine. */
  const drawn = (...options: string[]): string =>
    execFileSync(process.execPath, ['dist/cli.js', 'draw', `examples/${FILE}`, ...options], {
      encoding: 'utf8',
    });

  /** Saves the drawing as a file of the folder, and returns its first bytes in base 64. */
  async function saved(format: 'SVG' | 'PNG', path: string, most = 10_000_000): Promise<Buffer> {
    await page.press(`Save as ${format}`);
    const input = editor().page.locator('.quick-input-widget input:focus');
    await input.waitFor();
    await expect.poll(() => input.inputValue()).toMatch(new RegExp(`\\.${format.toLowerCase()}$`));
    const offered = await input.inputValue();
    await input.fill(`${offered.slice(0, offered.lastIndexOf('/') + 1)}${path}`);
    await input.press('Enter');
    const bytes = await editor().until(`the file ${path}`, () =>
      editor().host(
        async (vscode, { path, most }) => {
          const folder = vscode.Uri.joinPath(vscode.workspace.workspaceFolders![0]!.uri, 'tide-gauge');
          const uri = vscode.Uri.joinPath(folder, path);
          const there = (await vscode.workspace.fs.readDirectory(folder)).some(([name]) => name === path);
          if (!there) return undefined;
          const bytes = (await vscode.workspace.fs.readFile(uri)).slice(0, most);
          let text = '';
          for (const one of bytes) text += String.fromCharCode(one);
          return bytes.length > 0 && btoa(text);
        },
        { path, most },
      ),
    );
    return Buffer.from(bytes, 'base64');
  }

  /** A picture element by element, wherever the groups around them begin. Backgrounds are the page's own matter. */
  const elements = (svg: string) =>
    readSvg(svg)
      .filter(
        ({ name, attributes }) =>
          !['svg', 'g', 'style', 'title'].includes(name) && attributes.class !== 'ground',
      )
      .map(({ name, attributes: { transform: _, ...attributes }, text, title, inside, matrix }) => ({
        name,
        attributes,
        text,
        title,
        inside: inside.filter((one) => /^g ./.test(one)),
        matrix: matrix.map((one) => Math.round(one * 1000)),
      }));

  /** What the page shows, piece by piece, as one picture. */
  const shown = async () =>
    elements(
      `<svg>${(await page.pieces()).map(({ top, svg }) => `<g transform="translate(0 ${top})">${svg}</g>`).join('')}</svg>`,
    );

  const views: [string, string, string[], () => Promise<void>][] = [
    ['a bus', 'bus.svg', ['--view', 'bus', '--of', 'CAGE.MAIN'], async () => {}],
    [
      'a bus with marks of evidence',
      'evidence.svg',
      ['--view', 'bus', '--of', 'CAGE.MAIN', '--marks', 'evidence'],
      () => page.choose('Marks', 'How well known'),
    ],
    [
      'a connector from its wiring side',
      'wiring.svg',
      ['--view', 'connector', '--of', 'GAUGE.J2', '--side', 'wiring'],
      async () => {
        await page.choose('View', 'Connector');
        await page.choose('Of', 'GAUGE.J2');
        await page.press('Turn to wiring side');
      },
    ],
    [
      'a connector in its own size',
      'life-size.svg',
      ['--view', 'connector', '--of', 'GAUGE.J2', '--side', 'wiring', '--scale', '1:1'],
      () => page.press('Life-size'),
    ],
    [
      'a ribbon',
      'ribbon.svg',
      ['--view', 'ribbon', '--of', 'W2'],
      async () => {
        await page.choose('View', 'Ribbon');
        await page.choose('Of', 'W2');
      },
    ],
  ];

  it.each(views)('%s: saved and shown as the command line draws it', async (_, path, options, arrange) => {
    if (path === 'bus.svg') {
      await editor().open(FILE);
      await page.open();
    }
    await arrange();
    const expected = drawn(...options);
    await expect.poll(shown).toEqual(elements(expected));
    expect((await saved('SVG', path)).toString('utf8')).toBe(expected);
  });

  it('saves it as a PNG twice as large, so that a print of it is sharp', async () => {
    const { length } = elements(drawn('--view', 'ribbon', '--of', 'W2'));
    expect(length).toBeGreaterThan(100);
    const [, width, height] = /viewBox="0 0 (\d+) (\d+)"/.exec(drawn('--view', 'ribbon', '--of', 'W2'))!;
    const png = await saved('PNG', 'ribbon.png', 24);
    expect(png.subarray(0, 8)).toEqual(Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]));
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual([2 * Number(width), 2 * Number(height)]);
  });

  it('leaves everything as it is when nobody says where to', async () => {
    await page.press('Save as SVG');
    const input = editor().page.locator('.quick-input-widget input:focus');
    await input.waitFor();
    await input.press('Escape');
    await input.waitFor({ state: 'hidden' });
    expect(await editor().messages()).not.toContainEqual(expect.stringContaining('could not be written'));
    expect(await shown()).toEqual(elements(drawn('--view', 'ribbon', '--of', 'W2')));
  });
});
