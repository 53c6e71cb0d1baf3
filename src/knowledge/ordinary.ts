/**
 * Numbers of the 74 series whose outputs always drive, high or low, in every family (from memory: TI TTL Data Book).
 * A number that is neither here nor in the parts table may well be three-state or open collector.
 */
const alwaysDriving = new Set(
  (
    '00 02 04 08 10 11 13 14 20 21 27 28 30 32 37 40 42 51 54 64 73 74 75 76 83 85 86 90 92 93 107 109 112 113 ' +
    '114 121 122 123 132 137 138 139 148 150 151 153 154 155 157 158 160 161 162 163 164 165 166 174 175 180 181 ' +
    '190 191 192 193 194 195 221 259 273 279 280 283 377 390 393'
  ).split(' '),
);

/** Whether a part as `partNamed` names it (`74LS138`), of this family, is known to have totem-pole outputs. */
export function alwaysDrives(part: string, family: string): boolean {
  return part.startsWith(family) && alwaysDriving.has(part.slice(family.length));
}
