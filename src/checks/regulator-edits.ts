import { regulators } from '../knowledge/regulators.ts';
import type { Regulator } from '../knowledge/types.ts';
import type { Make } from '../machine/types.ts';
import { replacing } from './edits.ts';
import type { Edit } from './types.ts';

/** The regulator of the same series and rating for these V, signed, where the tables have exactly one. */
export function otherRegulator({ partSource }: Make, regulator: Regulator, volts: number): Edit[] {
  const right = regulators.filter(
    ({ output, current }) => output === volts && current === regulator.current && output !== regulator.output,
  );
  const series = right.filter(({ name }) => seriesOf(name) === seriesOf(regulator.name));
  const [one, other] = series.length > 0 ? series : right;
  if (one === undefined || other !== undefined || partSource === undefined) return [];
  return [replacing(`write \`${one.name}\``, partSource, one.name)];
}

/** `7805` and `7905` are of one series, `78L05` and `79L05` of another. */
const seriesOf = (name: string): string => name.replace(/^7[89]/, '7').replace(/\d+$/, '');
