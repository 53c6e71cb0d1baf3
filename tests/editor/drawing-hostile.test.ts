// What a file or a message holds stays text in the page of a drawing: it runs nothing, loads nothing, breaks nothing.
import { expect, it } from 'vitest';
import { HOSTILE } from '../support/svg.ts';
import { drawingPage } from './support/drawing.ts';
import { editorSuite } from './support/suite.ts';

/** As far as a name in quotes can hold it. */
const NAMES = [
  ...HOSTILE.map((name) => name.replace(/["\p{Cc}]/gu, "'")),
  '[x](command:y)',
  '![x](https://example.invalid/x.png)',
  '<https://example.invalid/>',
  '`` ` **b** | a |',
];

const machine = `pinout 1
title "${NAMES[0]}"
supply PSU {
  rail    +5V   5 V   max 3 A
  ground  GND
}
connector E {
  shape  edge 1 x ${NAMES.length + 2}
}
bus MAIN on E {
  1 = GND  by meter 2026-05-02 "${NAMES[0]}"
  2 = +5V
${NAMES.map((name, i) => `  ${i + 3} = "${name}"  by trace "${name}"`).join('\n')}
}
backplane CAGE {
  slots  1..${NAMES.length}  on MAIN
  feed   +5V from PSU at 2  by "${NAMES[0]}"
}
${NAMES.map((name) => `card "${name}" "${name}" {\n  edge  on MAIN\n  drives "${name}" with "${name}"\n}`).join('\n')}
fitted CAGE {
${NAMES.map((name, i) => `  ${i + 1} = "${name}"`).join('\n')}
}
`;

editorSuite(
  'hostile names in a drawing',
  (editor) => {
    const page = drawingPage(editor);
    const said: string[] = [];
    const dialogs: string[] = [];

    /** Elements in the page beyond those that a drawing and what is told of it are made of. */
    const strange = async (): Promise<string[]> =>
      (await page.frame()).evaluate(() => {
        const drawn = 'svg g path rect circle text title';
        const told = 'p ul li strong em code table thead tbody tr th td br';
        const odd = (within: string, known: string) =>
          [...document.querySelectorAll(`${within} *`)]
            .filter((one) => !known.split(' ').includes(one.localName))
            .map((one) => `${within}: ${one.outerHTML.slice(0, 200)}`);
        const armed = [...document.querySelectorAll('.stage *, aside *')].filter((one) =>
          one.getAttributeNames().some((name) => /^on|href|src/.test(name)),
        );
        return [...odd('.piece', drawn), ...odd('aside', told), ...armed.map((one) => one.outerHTML)];
      });

    it('is drawn, and every name stays text', async () => {
      editor().page.on('dialog', (dialog) => {
        dialogs.push(dialog.message());
        void dialog.dismiss();
      });
      editor().page.on('console', (message) => {
        if (message.type() === 'error') said.push(message.text());
      });
      await editor().create('hostile.pinout', machine);
      await page.open();
      await expect.poll(page.lines).toHaveLength(NAMES.length + 2);
      const texts = await page.texts();
      expect(texts).toContain('<img src=x onerror=alert(1)>');
      expect(texts).toContain('&lt;script&gt;alert(1)&lt;/script&gt;');
      expect(await strange()).toEqual([]);
    });

    it.each(NAMES.map((name, i) => [i + 1, name] as const))(
      'tells which board is in slot %i, as its name is written',
      async (slot, name) => {
        await page.pointAt('GND', String(slot));
        const told = await page.tells(`in slot ${slot}`);
        // Long names are cut, and what cannot be seen or turns the way one reads is shown as something else.
        const [seen] = name.slice(0, 40).match(/[\p{L}\p{N}\p{P}\p{S} ]+/u)!;
        expect(told).toContain(seen.trim());
        expect(await strange()).toEqual([]);
      },
    );

    it('has room for all of it', async () => {
      const { sheet, tall, aside } = await (await page.frame()).evaluate(() => ({
        sheet: document.querySelector<HTMLElement>('.sheet')!.offsetWidth,
        tall: Math.max(
          ...[...document.querySelectorAll('g.line')].map((one) => one.getBoundingClientRect().height),
        ),
        aside: document.querySelector('aside')!.scrollWidth - document.querySelector('aside')!.clientWidth,
      }));
      expect(sheet).toBeLessThan(2000);
      expect(tall).toBeLessThan(40);
      expect(aside).toBeLessThanOrEqual(0);
      const { width } = (await (await page.frame()).locator('header').boundingBox())!;
      expect(width).toBeLessThan(1600);
    });

    it('shows its connectors and saves under a name that a file may have', async () => {
      await page.choose('View', 'Connector');
      await page.choose('Of', 'CAGE.1');
      await page.pointAtText('3');
      await page.tells('CAGE.1.3');
      expect(await strange()).toEqual([]);
      await page.choose('View', 'Bus');
    });

    it('pays no heed to a message of another shape', async () => {
      const before = await page.pieces();
      const frame = await page.frame();
      await frame.evaluate((bad) => {
        const drawing = { kind: 'drawing', version: 7, root: '', of: bad, menu: {}, at: 0 };
        const nonsense: unknown[] = [
          undefined,
          null,
          bad,
          [],
          { kind: bad },
          { kind: 'told', version: 0, cell: { row: 0, column: 0 }, markdown: { toString: 'x' } },
          { kind: 'nothing', root: '', why: 1, menu: {} },
          drawing,
          {
            ...drawing,
            menu: { bus: [], connector: [], ribbon: [], 'what-if': [] },
            sent: { view: 'bus', picture: {}, lines: [] },
          },
          { kind: 'select', version: 1, cell: { row: 1e9, column: -7 } },
          { kind: 'cursor', version: 'x', cells: [] },
        ];
        for (const data of nonsense) window.dispatchEvent(new MessageEvent('message', { data }));
      }, NAMES[0]!);
      expect(await page.pieces()).toEqual(before);
      expect(await strange()).toEqual([]);
      // It still listens.
      await page.pointAt('GND');
      await page.tells('GND');
    });

    it('makes no link, picture or element of what it is told', async () => {
      await page.pointAt('GND');
      await page.tells('GND ground');
      await (await page.frame()).evaluate(() => {
        const markdown = [
          '<img src=x onerror=alert(1)>',
          '![x](https://example.invalid/x.png)',
          '[y](command:z) <https://example.invalid/> https://example.invalid/',
          '<script>alert(1)</script>',
          '| a |\n| --- |\n| <iframe src=x> |',
        ].join('\n\n');
        // Whichever version of the drawing it is by now, and whichever line it was that was pointed at.
        for (let version = 0; version < 100; version++) {
          for (let row = 0; row < 50; row++) {
            const data = { kind: 'told', version, cell: { row, column: -1 }, markdown };
            window.dispatchEvent(new MessageEvent('message', { data }));
          }
        }
      });
      const told = await page.tells('<script>alert(1)</script>');
      expect(told).toContain('<img src=x onerror=alert(1)>');
      expect(await strange()).toEqual([]);
    });

    it('runs nothing and asks nobody', () => {
      expect(dialogs).toEqual([]);
      expect([...editor().outside]).toEqual([]);
      expect(said.filter((text) => /refused|violates|Content Security Policy/i.test(text))).toEqual([]);
    });
  },
  { size: { width: 1600, height: 900 } },
);
