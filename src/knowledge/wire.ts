/** Round copper wire by gauge. */

/** Ω·m at 20 °C of annealed copper: IEC 60028 (1/58 Ω·mm²/m). */
const annealedCopper = 1.7241e-8;

/**
 * Diameter in metres of a solid wire of `awg` gauge: ASTM B258, d = 0.127 mm · 92^((36 − n) / 39).
 * Gauges 00, 000 and 0000 are −1, −2 and −3. Any finite number gives an answer.
 */
export function awgDiameter(awg: number): number {
  return 0.127e-3 * 92 ** ((36 - awg) / 39);
}

/**
 * Ohm per metre of a solid wire of `awg` gauge at 20 °C: copper of IEC 60028 over the ASTM B258 section.
 * Stranded wire differs by its strand count and lay; ±10 % covers the usual ones.
 */
export function awgResistance(awg: number): number {
  return annealedCopper / ((Math.PI / 4) * awgDiameter(awg) ** 2);
}
