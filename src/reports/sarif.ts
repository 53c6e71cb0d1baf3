import { languageRules } from '../checks/language.ts';
import { pages } from '../checks/pages.ts';
import { rules } from '../checks/rules.ts';
import type { Finding, Severity } from '../checks/types.ts';
import type { Source } from '../machine/types.ts';
import { placeIn, type Texts } from './places.ts';

/** SARIF 2.1.0 (OASIS standard) has three levels: a question is a note there, and keeps its name in `properties`. */
const LEVELS: Readonly<Record<Severity, string>> = {
  error: 'error',
  warning: 'warning',
  question: 'note',
  note: 'note',
};

/** Findings as a SARIF 2.1.0 log. `uriOf` gives the relative or absolute URI of a file. */
export function findingsSarif(
  findings: readonly Finding[],
  version: string,
  texts: Texts,
  uriOf: (file: string) => string,
): string {
  const known = [...rules, ...languageRules];
  const index = new Map(known.map(({ id }, i) => [id, i]));
  const physical = (source: Source) => {
    const { line, column, endLine, endColumn } = placeIn(texts, source);
    return {
      artifactLocation: { uri: uriOf(source.file) },
      region: { startLine: line, startColumn: column, endLine, endColumn },
    };
  };
  const results = findings.map((finding) => ({
    ruleId: finding.rule,
    ...(index.has(finding.rule) ? { ruleIndex: index.get(finding.rule) } : {}),
    level: LEVELS[finding.severity],
    message: {
      text: finding.fix === undefined ? finding.message : `${finding.message}. What to do: ${finding.fix}`,
    },
    locations: [{ physicalLocation: physical(finding.source) }],
    relatedLocations: finding.path.map((step, id) => ({
      id,
      physicalLocation: physical(step.source),
      message: {
        text:
          [step.contact, step.signal, step.evidence && `(${step.evidence})`].filter(Boolean).join(' ') ||
          'here',
      },
    })),
    ...fixesOf(finding, physical),
    properties: { severity: finding.severity },
  }));
  const log = {
    $schema: 'https://json.schemastore.org/sarif-2.1.0.json',
    version: '2.1.0',
    runs: [
      {
        tool: {
          driver: {
            name: 'cardcage',
            version,
            rules: known.map(({ id, summary, severity }) => ({
              id,
              shortDescription: { text: summary },
              help: { text: pages.get(id) ?? '', markdown: pages.get(id) ?? '' },
              defaultConfiguration: { level: LEVELS[severity] },
            })),
          },
        },
        columnKind: 'utf16CodeUnits',
        results,
      },
    ],
  };
  return `${JSON.stringify(log, null, 2)}\n`;
}

/** Edits that replace text: what is added to a block has no place of its own in this format. */
function fixesOf(
  { edits = [] }: Finding,
  physical: (source: Source) => { artifactLocation: object; region: object },
): object {
  const fixes = edits.flatMap(({ title, changes }) => {
    const replacements = changes.filter((change) => change.kind === 'replace');
    if (replacements.length < changes.length) return [];
    const artifactChanges = replacements.map(({ source, text }) => {
      const { artifactLocation, region } = physical(source);
      return { artifactLocation, replacements: [{ deletedRegion: region, insertedContent: { text } }] };
    });
    return [{ description: { text: title }, artifactChanges }];
  });
  return fixes.length > 0 ? { fixes } : {};
}
