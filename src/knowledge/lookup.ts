import { families } from './families.ts';
import { parts } from './parts.ts';
import { regulators } from './regulators.ts';
import type { Family, Part, Regulator } from './types.ts';

/**
 * Finds a chip by what is printed on it: a maker's letters before the number, and letters of package or
 * speed after it, are ignored. Reads left to right without regular expressions: no name makes it slow.
 */

/** Letters makers print before the number. */
const makers = (
  'A AM AN AY B C CD D DM DN DP DS EF F GD GM HCC HCF HD HEF HM I IN INS KA KS L LB LM M MB ' +
  'MC MCM MCS MK MM MN MOS MPS N NJM NTE P PC R S SCN SG SN SNJ SY SYP T TA TC TMM TMS U UA UM UPB UPC UPD'
).split(' ');

/** Makers whose four-digit numbers from 4000 are CMOS logic. */
const cmosMakers = ['CD', 'HCC', 'HCF', 'HEF', 'MC1', 'TC'];

/** Peripherals that carry their processor's number. */
const peripherals = ['PIO', 'SIO', 'CTC', 'DMA', 'DART'];

const longestName = 24;

interface Tables {
  readonly families: ReadonlyMap<string, Family>;
  readonly parts: ReadonlyMap<string, Part>;
  readonly regulators: ReadonlyMap<string, Regulator>;
}

const byName = <T extends { readonly name: string }>(list: readonly T[]): ReadonlyMap<string, T> =>
  new Map(list.map((entry) => [entry.name, entry]));

let built: Tables | undefined;

function tables(): Tables {
  built ??= { families: byName(families), parts: byName(parts), regulators: byName(regulators) };
  return built;
}

function printed(name: string): string {
  if (name.length > longestName) return '';
  // Upper case of both micro signs is the Greek capital mu.
  return name.toUpperCase().replaceAll(' ', '').replaceAll('\u039c', 'U');
}

const isDigit = (char: string): boolean => char >= '0' && char <= '9';
const isLetter = (char: string): boolean => char >= 'A' && char <= 'Z';

/** Where the run of characters that satisfy `test` ends, from `start`. */
function runEnd(text: string, start: number, test: (char: string) => boolean): number {
  let end = start;
  while (end < text.length && test(text.charAt(end))) end += 1;
  return end;
}

/** Whether `text` can follow a complete number: never a digit first, or the number would be another one. */
function isSuffix(text: string): boolean {
  if (text === '') return true;
  if (isDigit(text.charAt(0)) || peripherals.some((word) => text.includes(word))) return false;
  return runEnd(text, 0, (char) => isLetter(char) || isDigit(char) || '-/.'.includes(char)) === text.length;
}

/** `text` itself, then what is left after each maker's letters it may begin with. */
function readings(text: string): string[] {
  return [text, ...makers.filter((maker) => text.startsWith(maker)).map((maker) => text.slice(maker.length))];
}

/** All names in the tables: of chips and families, or of regulators. An ordinary gate is not listed. */
export function tabledNames(kind: 'part' | 'regulator'): string[] {
  const { families, parts, regulators } = tables();
  return kind === 'regulator' ? [...regulators.keys()] : [...parts.keys(), ...families.keys()];
}

/** What is printed, then what is left of it without the letters that makers print before the number. */
export const printedNames = (name: string): string[] => readings(printed(name));

/** The entry with the longest name that `text` begins with, a possible suffix left over. */
function longestIn<T>(table: ReadonlyMap<string, T>, text: string): T | undefined {
  for (let end = text.length; end > 1; end -= 1) {
    const entry = table.get(text.slice(0, end));
    if (entry !== undefined && isSuffix(text.slice(end))) return entry;
  }
  return undefined;
}

interface LogicName {
  readonly family: Family;
  readonly name: string;
}

/** Takes `74LS04…` or `54LS04…` apart; undefined unless the letters are a family and 2 to 5 digits follow. */
function logicName(text: string): LogicName | undefined {
  if (!text.startsWith('74') && !text.startsWith('54')) return undefined;
  const lettersEnd = runEnd(text, 2, isLetter);
  const digitsEnd = runEnd(text, lettersEnd, isDigit);
  const digits = digitsEnd - lettersEnd;
  const family = tables().families.get(`74${text.slice(2, lettersEnd)}`);
  if (!family || digits < 2 || digits > 5 || !isSuffix(text.slice(digitsEnd))) return undefined;
  return { family, name: family.name + text.slice(lettersEnd, digitsEnd) };
}

/** A number of four digits from 4000 on behind letters that only CMOS logic carries. */
function cmosName(text: string): LogicName | undefined {
  const family = tables().families.get('4000');
  for (const maker of cmosMakers) {
    if (!text.startsWith(`${maker}4`)) continue;
    const digitsEnd = runEnd(text, maker.length, isDigit);
    if (family && digitsEnd - maker.length === 4 && isSuffix(text.slice(digitsEnd))) {
      return { family, name: text.slice(maker.length, digitsEnd) };
    }
  }
  return undefined;
}

function ordinaryGate({ family, name }: LogicName): Part {
  return {
    name,
    title: `${family.title}, taken as an ordinary gate`,
    family: family.name,
    input: family.input,
    output: family.output,
    source: family.source,
  };
}

/** The family of that name: `74LS`, `54LS`, `SN74LS`, `4000`, `CD4000`. A numbered part is no family. */
export function familyNamed(name: string): Family | undefined {
  for (const reading of readings(printed(name))) {
    const family = tables().families.get(reading.startsWith('54') ? `74${reading.slice(2)}` : reading);
    if (family) return family;
  }
  return undefined;
}

/**
 * The part printed as `name`. A 74- or 54-series number not in the table, or a 4000-series one behind a CMOS
 * maker's letters, comes back as an ordinary totem-pole gate of its family.
 */
export function partNamed(name: string): Part | undefined {
  const text = printed(name);
  const cmos = cmosName(text);
  if (cmos) return ordinaryGate(cmos);
  for (const reading of readings(text)) {
    const logic = logicName(reading);
    if (logic) return tables().parts.get(logic.name) ?? ordinaryGate(logic);
    const part = longestIn(tables().parts, reading);
    if (part) return part;
  }
  return undefined;
}

/** The logic family of the part printed as `name`; undefined for a part that belongs to none. */
export function familyOfPart(name: string): Family | undefined {
  const family = partNamed(name)?.family;
  return family === undefined ? undefined : tables().families.get(family);
}

/** `LM340T-5.0`, `LM340T5` → `LM340-5`; `LM340AK-12` → `LM340-12`. The LM340L is another, smaller part. */
function lm340Name(text: string): string | undefined {
  if (!text.startsWith('LM340')) return undefined;
  const lettersEnd = runEnd(text, 5, isLetter);
  if (text.slice(5, lettersEnd).includes('L')) return undefined;
  const start = text.charAt(lettersEnd) === '-' ? lettersEnd + 1 : lettersEnd;
  const digitsEnd = runEnd(text, start, isDigit);
  const rest = text.startsWith('.0', digitsEnd) ? digitsEnd + 2 : digitsEnd;
  return isSuffix(text.slice(rest)) ? `LM340-${text.slice(start, digitsEnd)}` : undefined;
}

/** The regulator printed as `name`: `LM7805CT`, `uA7805`, `MC78L05`, `LM340T-5`. */
export function regulatorNamed(name: string): Regulator | undefined {
  const text = printed(name);
  const lm340 = lm340Name(text);
  if (lm340 !== undefined) return tables().regulators.get(lm340);
  for (const reading of readings(text)) {
    const regulator = longestIn(tables().regulators, reading);
    if (regulator) return regulator;
  }
  return undefined;
}
