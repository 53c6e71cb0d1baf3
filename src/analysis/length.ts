import type { LineData } from '../machine/types.ts';

/** A line's wave impedance in ohm, its delay in s/m and its own capacitance in F/m. */
interface Wave {
  readonly impedance: number;
  readonly delay: number;
  readonly capacitance: number;
}

/** The bare line from whichever two of its figures are said; undefined where fewer are. */
export function bareLine({ impedance, capacitance, inductance, delay }: LineData): Wave | undefined {
  const perMetre =
    capacitance ??
    (impedance && delay !== undefined ? delay / impedance : undefined) ??
    (impedance && inductance !== undefined ? inductance / impedance ** 2 : undefined);
  if (perMetre === undefined || !(perMetre > 0)) return undefined;
  const ohms =
    impedance ??
    (inductance === undefined ? undefined : Math.sqrt(inductance / perMetre)) ??
    (delay === undefined ? undefined : delay / perMetre);
  if (ohms === undefined || !(ohms > 0)) return undefined;
  return { impedance: ohms, delay: delay ?? ohms * perMetre, capacitance: perMetre };
}

/**
 * The line with loads spread along it, `load` in F/m: Z' = Z0 ÷ √(1 + Cd/C0), t' = t0·√(1 + Cd/C0)
 * (Texas Instruments SZZA016B).
 */
export function loadedLine(bare: Wave, load: number): Wave {
  const factor = Math.sqrt(1 + load / bare.capacitance);
  return {
    impedance: bare.impedance / factor,
    delay: bare.delay * factor,
    capacitance: bare.capacitance + load,
  };
}

/** F of a board on a line: connector 5 pF, feed line 5 pF, driver 10 pF (Texas Instruments SCBA015A). */
export const BOARD_CAPACITANCE = 20e-12;
