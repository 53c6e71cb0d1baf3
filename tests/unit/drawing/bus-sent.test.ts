import { expect, test } from 'vitest';
import { busPictures } from '../../../src/drawing/bus-picture.ts';
import { sending } from '../../../src/drawing/send.ts';
import { arrived, readToPage } from '../../../src/drawing/to-page.ts';
import { opened } from '../../support/project.ts';

const MACHINE = `pinout 1
supply PSU {
 rail +5V 5 V max 3 A
 ground GND
}
connector E {
 shape edge 1 x 6
 numbers 1..6
}
bus MAIN on E {
 1 = GND by meter
 2 = +5V
 3 = SYNC
 4 > 5 = GRANT
}
backplane CAGE {
 slots 1..4 on MAIN
 feed +5V from PSU at 2
}
card CPU {
 edge on MAIN
 takes +5V 1 A
 pull-up SYNC 1 kohm to +5V
 starts GRANT with 7406
 untouched rest
}
card IO {
 edge on MAIN
 passes GRANT with 74LS04
 drives SYNC with 74LS04
 untouched rest
}
fitted CAGE {
 1 = CPU
 2 = IO as A
 3 = empty
 4 = IO as B
}
readings 2026-05-02 cards in power on {
 CAGE.1.2 to GND = 5.02 V
}
`;

test('all that a bus picture shows arrives at the page, and no place in a file', () => {
  const { project, file } = opened(MACHINE);
  const { view, findings } = project.analysis(file)!;
  const [picture] = busPictures(view, findings);
  const roles = picture!.lines.flatMap(({ crossings }) => crossings.map((one) => one?.role));
  expect(roles).toEqual(expect.arrayContaining(['holds', 'starts', 'stops', 'takes', 'ground', 'open']));
  const { sent } = sending({ view: 'bus', picture: picture! }, 1, undefined);
  const menu = { bus: ['CAGE.MAIN'], connector: [], ribbon: [], 'what-if': [] };
  const message = { kind: 'drawing', version: 1, root: file, of: 'CAGE.MAIN', menu, at: 0, sent };
  const read = readToPage(structuredClone(message));
  if (read?.kind !== 'drawing') throw new Error('the page does not know the message');
  const shown = arrived(read.sent, undefined);
  expect(JSON.parse(JSON.stringify(shown!.picture))).toEqual(
    JSON.parse(JSON.stringify(picture, (key, one) => (key === 'spot' || key === 'origin' ? undefined : one))),
  );
  expect(JSON.stringify(shown)).not.toContain(file);
});
