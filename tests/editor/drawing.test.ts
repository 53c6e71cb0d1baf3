// A drawing beside its text, as a person works with it: point, read, jump, filter, turn, edit.
import { expect, it } from 'vitest';
import { drawingPage } from './support/drawing.ts';
import { editorSuite } from './support/suite.ts';

editorSuite(
  'a drawing beside the text',
  (editor) => {
    const page = drawingPage(editor);

    /** A line, its crossings with these slots, and what else is marked of it. */
    const along = (line: string, slots: readonly number[], ...more: string[]) => [
      line,
      ...slots.map((slot) => `${line} ${slot}`),
      ...more.map((one) => `${line} ${one}`),
    ];
    const ALL = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10];

    it('lights every contact of the net that is pointed at', async () => {
      await editor().open('tide-gauge/as-found.pinout');
      await page.open();
      await page.pointAt('CLK', '4');
      await expect.poll(page.lit).toEqual(along('CLK', ALL, 'end', 'end'));
      expect(await page.marked('here')).toEqual(['CLK 4']);
      // Copper is cut behind slot 6, and what lies elsewhere is on the net too.
      await page.pointAt('SYNC', '2');
      await expect.poll(page.lit).toEqual(along('SYNC', [1, 2, 3, 4, 5, 6], 'end'));
      await page.pointAt('D0');
      await expect.poll(page.lit).toEqual(along('D0', ALL, 'end', 'elsewhere'));
      await page.pointAway();
      await expect.poll(page.lit).toEqual([]);
    });

    it('tells signal, evidence, load sum and terminators of it', async () => {
      await page.pointAt('A2', '4');
      const told = await page.tells('A2 in slot 4');
      expect(told).toContain('board CLOCK, contact F: receives; known by trace');
      expect(told).toContain('driven by CPU, TELE with 74LS244');
      expect(told).toMatch(/CPU must sink [\d.]+ mA of 24 mA/);
      expect(told).toMatch(/terminated 220 ohm to \+5V, 330 ohm to GND after slot 10 of CAGE: trace/);
      await page.pointAt('-5V', '7');
      expect(await page.tells('-5V in slot 7')).toContain('error rail-conflict');
      await page.pointAway();
      await page.tells('Point at a line');
    });

    it('leads from a crossing to its statement, in another file of the machine too', async () => {
      await page.clickAt('SYNC', '4');
      await page.leadsTo(/^as-found\.pinout: drives SYNC with 74LS244/);
      await page.clickAt('SYNC');
      await page.leadsTo(/^bus\.pinout: T = SYNC in 1\.\.6 by trace/);
      expect(await page.marked('here')).toEqual(['SYNC']);
    });

    it('marks what stands at the cursor', async () => {
      await editor().goTo('P             = /WAIT');
      // The bus says it of the line, and of each slot.
      const slots = Array.from({ length: 10 }, (_, i) => `/WAIT ${i + 1}`);
      await expect
        .poll(() => page.marked('cursor').then((all) => all.sort()))
        .toEqual(['/WAIT', ...slots].sort());
      await editor().open('tide-gauge/as-found.pinout');
      await editor().goTo('drives       CLK');
      await expect.poll(() => page.marked('cursor')).toEqual(['CLK 4']);
      await editor().goTo('8    = PUMP');
      await expect.poll(() => page.marked('cursor')).toEqual(['slot 8']);
      await editor().goTo('supply PSU');
      await expect.poll(() => page.marked('cursor')).toEqual([]);
    });

    it('is asked for a place of the text, and brings it into sight', async () => {
      await editor().goTo('passes       GRANT              by trace "plain track');
      await editor().command('Cardcage: Reveal in bus view');
      await expect.poll(() => page.marked('here')).toEqual(['GRANT 2']);
      expect(await page.tells('GRANT in slot 2')).toContain('board RAM-A');
      expect((await page.scrolled()).top).toBeGreaterThan(0);
    });

    it('filters by text, group, finding and evidence', async () => {
      const all = await page.lines();
      expect(all).toHaveLength(37);
      await page.filter('/r');
      await expect.poll(page.lines).toEqual(['/RD', '/RESET']);
      await page.filter('lamps');
      await expect.poll(page.lines).toEqual(expect.arrayContaining(['GND', 'D0', '/WR']));
      await page.filter('');
      await page.choose('Lines', 'Address');
      await expect.poll(page.lines).toEqual(['A0', 'A1', 'A2', 'A3', 'A4', 'A5', 'A6', 'A7']);
      await page.filter('a3');
      await expect.poll(page.lines).toEqual(['A3']);
      await page.filter('no such line');
      await expect.poll(page.texts).toContain('No line fits the filter.');
      await page.filter('');
      await page.choose('Lines', 'All lines');
      expect(await page.offered('Findings')).toContain('drivers-fight');
      await page.choose('Findings', 'drivers-fight');
      await expect.poll(page.lines).toEqual(['/ALARM']);
      await page.choose('Findings', 'Errors');
      await expect.poll(page.lines).toEqual(expect.arrayContaining(['/ALARM', 'GRANT']));
      expect((await page.lines()).length).toBeLessThan(all.length);
      await page.choose('Findings', 'With or without');
      await page.choose('Known by', 'Guess');
      await expect.poll(async () => (await page.lines()).length).toBeLessThan(all.length);
      await page.choose('Known by', 'Anyhow');
      await expect.poll(page.lines).toEqual(all);
    });

    it('switches what the marks show', async () => {
      const legend = async () => (await page.texts()).join('\n');
      expect(await legend()).toContain('drives');
      await page.choose('Marks', 'How well known');
      await expect.poll(legend).toContain('metered');
      await page.choose('Marks', 'Current');
      // What the processor takes of +5V.
      await expect.poll(page.texts).toContain('2.6A');
      await page.choose('Marks', 'Last readings');
      await expect.poll(legend).toContain('the last reading at the contact');
      await page.choose('Marks', 'What boards do');
    });

    it('shows another connector, turned round by button and key', async () => {
      await page.choose('View', 'Connector');
      await page.choose('Of', 'GAUGE.J2');
      const seen = (side: string) =>
        expect
          .poll(async () => (await page.texts()).find((text) => text.startsWith('Seen from')))
          .toContain(side);
      await seen('mating side');
      const mating = await page.pieces();
      await page.press('Turn to wiring side');
      await seen('wiring side');
      expect(await page.pieces()).not.toEqual(mating);
      await page.pointAtText('2');
      expect(await page.tells('F0')).toContain('trace');
      await page.clickHere();
      await page.leadsTo(/^as-found\.pinout: 2\.\.16 step 2 = F0\.\.F7/);
      await page.pointAtText('2');
      await (await page.frame()).locator('.stage').press('s');
      await seen('mating side');
      await expect.poll(page.pieces).toEqual(mating);
      await page.press('Life-size');
      await expect.poll(async () => (await page.texts()).join(' ')).toContain('drawn 1:1');
      await page.press('Reading size');
    });

    it('shows a ribbon, and leads from its conductors to the text', async () => {
      await page.choose('View', 'Ribbon');
      await page.choose('Of', 'W2');
      await page.pointAtText('LAMPS.J1');
      await page.clickHere();
      await page.leadsTo(/^as-found\.pinout: end LAMPS\.J1/);
      await page.choose('View', 'Bus');
    });

    it('follows what is typed, and what is undone', async () => {
      await editor().toText();
      await editor().open('tide-gauge/as-found.pinout');
      await editor().goTo('drives       SYNC', 'after');
      const before = await page.pieces();
      await editor().type('ED');
      await page.pointAt('SYNC', '4');
      await expect.poll(page.told).toMatch(/^SYNC in slot 4, board CLOCK, contact T: (?!drives)/);
      await page.pointAway();
      await expect.poll(page.pieces).not.toEqual(before);
      await editor().press('Control+Z');
      await expect.poll(page.pieces).toEqual(before);
    });

    it('follows a name wherever it is typed anew', async () => {
      await editor().goTo('title "Tide-gauge', 'after');
      await editor().type(' and sluice');
      await expect
        .poll(async () => (await page.texts())[0])
        .toContain('Tide-gauge and sluice station logger, rack 2, as found');
      await editor().press('Control+Z');
    });

    it('says why where there is nothing to draw', async () => {
      await editor().create('empty.pinout', 'pinout 1\n');
      await editor().command('Cardcage: Open drawing beside');
      const said = await editor().until('a message', async () =>
        (await editor().messages()).find((text) => text.startsWith('There is nothing to draw yet')),
      );
      expect(said).toContain('describe a backplane with a bus, a connector or a ribbon');
    });
  },
  { size: { width: 1600, height: 900 } },
);
