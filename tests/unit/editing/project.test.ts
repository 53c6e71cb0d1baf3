import { describe, expect, it } from 'vitest';
import { Project } from '../../../src/editing/project.ts';
import { published } from '../../../src/knowledge/published.ts';

const ROOT = '/w/a.pinout';
const USED = '/w/b.pinout';
const USES = 'use "b.pinout"\n';

const project = (texts: Readonly<Record<string, string>>): Project => {
  const made = new Project(published, (file) => file.slice(0, file.indexOf('/', 1)));
  for (const [file, text] of Object.entries(texts)) made.set(file, text);
  return made;
};

const rules = (one: Project, file = ROOT): string[] => one.findingsIn(file).map(({ rule }) => rule);

describe('files that the host may look for', () => {
  it('are those that a `use` names and that are not there yet', () => {
    const one = project({ [ROOT]: USES });
    expect(one.missing()).toEqual([USED]);
    one.set(USED, '');
    expect(one.missing()).toEqual([]);
    one.set(ROOT, `${USES}use "c.pinout"\n`);
    expect(one.missing()).toEqual(['/w/c.pinout']);
    one.delete(USED);
    expect(one.missing()).toEqual([USED, '/w/c.pinout']);
  });

  it.each([
    '../secret.pinout',
    '../w2/b.pinout',
    '../../secret.pinout',
    '/etc/b.pinout',
    'sub/../../b.pinout',
  ])('never lie outside the workspace: %s', (path) =>
    expect(project({ [ROOT]: `use "${path}"\n` }).missing()).toEqual([]),
  );

  it('may lie beside a file of a folder that the root may use', () => {
    const one = new Project(published);
    one.set(ROOT, 'use "sub/b.pinout"\n');
    one.set('/w/sub/b.pinout', 'use "../c.pinout"\n');
    expect(one.missing()).toEqual(['/w/c.pinout']);
  });
});

describe('what is known of a machine', () => {
  it('is anew once a file that could not be read can be', () => {
    const one = project({ [ROOT]: USES });
    one.setUnreadable(USED, 'b.pinout: is not text in UTF-8');
    expect(rules(one)).toEqual(['use-missing']);
    one.set(USED, 'pinout 1\n');
    expect(rules(one)).toEqual([]);
  });

  it('is anew once a file comes or goes', () => {
    const one = project({ [ROOT]: USES });
    expect(rules(one)).toEqual(['use-missing']);
    one.set(USED, '');
    expect(rules(one)).toEqual([]);
    one.delete(USED);
    expect(rules(one)).toEqual(['use-missing']);
  });

  it('is anew once a whole folder goes, whatever it held', () => {
    const one = project({
      [ROOT]: 'use "sub/b.pinout"\nuse "sub/c.pinout"\n',
      '/w/sub/b.pinout': '',
      '/w/sub2.pinout': '',
    });
    one.setUnreadable('/w/sub/c.pinout', 'c.pinout: is not text in UTF-8');
    expect(one.delete('/w/sub')).toBe(true);
    expect(one.delete('/w/sub')).toBe(false);
    expect(one.names()).toEqual([ROOT, '/w/sub2.pinout']);
    expect(one.missing()).toEqual(['/w/sub/b.pinout', '/w/sub/c.pinout']);
  });

  it('is anew once other folders make up the workspace', () => {
    let workspace = '/w/sub';
    const one = new Project(published, () => workspace);
    one.set('/w/sub/a.pinout', 'use "../b.pinout"\n');
    one.set(USED, '');
    expect(rules(one, '/w/sub/a.pinout')).toEqual(['use-outside']);
    workspace = '/w';
    one.forget();
    expect(rules(one, '/w/sub/a.pinout')).toEqual([]);
  });
});

describe('the machine of a file', () => {
  it('is that of the file that uses it', () => {
    expect(project({ [ROOT]: USES, [USED]: '' }).rootsOf(USED)).toEqual([ROOT]);
  });

  it('is its own where the file that names it may not use it', () => {
    const one = project({ [ROOT]: 'use "../w2/b.pinout"\n', '/w2/b.pinout': 'nonsense\n' });
    expect(one.of('/w2/b.pinout')?.root).toBe('/w2/b.pinout');
    expect(rules(one, '/w2/b.pinout')).toHaveLength(1);
  });
});
