import type { Finding, Severity, Step } from '../checks/types.ts';
import type { Summary } from './findings.ts';
import { harmless, lineText, placeIn, type Texts } from './places.ts';

/** How words are coloured; on anything but a terminal each leaves the text as it is. */
export interface Paint {
  severity(severity: Severity, text: string): string;
  strong(text: string): string;
  faint(text: string): string;
}

/** Steps of a way that are shown; a longer one is shortened in the middle. */
const STEPS = 8;

/** One finding as a person reads it: place and rule, sentence, the line with the place marked, the way, what to do. */
export function findingText(
  finding: Finding,
  texts: Texts,
  nameOf: (file: string) => string,
  paint: Paint,
  columns: number,
): string {
  const width = Math.max(60, Math.min(columns, 140));
  const { rule, severity, message, source, path, fix } = finding;
  const place = placeIn(texts, source);
  const heading = `${harmless(nameOf(source.file))}:${place.line}:${place.column}`;
  const lines = [`${paint.severity(severity, severity)} ${paint.strong(rule)}  ${paint.faint(heading)}`];
  lines.push(...wrapped(harmless(message), width, '  ', '  '));
  const file = texts.get(source.file);
  if (file !== undefined) {
    const shown = lineText(file, place.line);
    const to = place.endLine === place.line ? place.endColumn : shown.length + 1;
    lines.push(...marked(shown, place.column, to, place.line, severity, paint, width - 12));
  }
  if (path.length > 0) lines.push(...way(path, texts, nameOf, paint));
  if (fix !== undefined) {
    const [first, ...rest] = wrapped(harmless(fix), width, '       ', '       ');
    lines.push(`  ${paint.faint('do:')}  ${(first ?? '').trimStart()}`, ...rest);
  }
  return `${lines.join('\n')}\n`;
}

function marked(
  text: string,
  column: number,
  end: number,
  line: number,
  severity: Severity,
  paint: Paint,
  width: number,
): string[] {
  const start = text.length > width ? Math.max(0, Math.min(column - 20, text.length - width)) : 0;
  const shown = harmless(text.slice(start, start + width)).trimEnd();
  const from = column - 1 - start;
  const length = Math.max(1, Math.min(end - column, shown.length - from));
  const number = String(line).padStart(5);
  const cut = start > 0 ? '…' : ' ';
  const more = start + width < text.length ? '…' : '';
  return [
    `  ${paint.faint(`${number} │`)}${cut}${shown}${more}`,
    `  ${paint.faint('      │')} ${' '.repeat(Math.max(0, from))}${paint.severity(severity, '^'.repeat(length))}`,
  ];
}

function way(path: readonly Step[], texts: Texts, nameOf: (file: string) => string, paint: Paint): string[] {
  const shown: (Step | undefined)[] =
    path.length <= STEPS ? [...path] : [...path.slice(0, STEPS / 2), undefined, ...path.slice(-STEPS / 2)];
  return shown.map((step, i) => {
    const label = i === 0 ? 'way:' : '    ';
    if (step === undefined) return `  ${paint.faint(label)} … ${path.length - STEPS} more`;
    const signal = step.signal === '' ? '' : ` ${step.signal}`;
    const evidence = step.evidence === '' ? '' : ` (${step.evidence})`;
    const at = `${nameOf(step.source.file)}:${placeIn(texts, step.source).line}`;
    return `  ${paint.faint(label)} ${harmless(`${step.contact}${signal}${evidence}`)}  ${paint.faint(harmless(at))}`;
  });
}

const counted = (count: number, word: string): string => `${count} ${word}${count === 1 ? '' : 's'}`;

export function summaryText(summary: Summary): string {
  const { errors, warnings, questions, notes, files, contacts, nets } = summary;
  const found = [
    counted(errors, 'error'),
    counted(warnings, 'warning'),
    counted(questions, 'question'),
    counted(notes, 'note'),
  ];
  return `${found.join(', ')} in ${counted(files, 'file')} (${counted(contacts, 'contact')}, ${counted(nets, 'net')})\n`;
}

/** Text in lines of at most `width`, broken between words. */
export function wrapped(text: string, width: number, first: string, next: string): string[] {
  const lines: string[] = [];
  let line = first;
  for (const word of text.split(' ')) {
    if (line.trim() !== '' && line.length + word.length + 1 > width) {
      lines.push(line);
      line = next;
    }
    line += line.trim() === '' ? word : ` ${word}`;
  }
  lines.push(line);
  return lines;
}
