import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import Ajv from 'ajv-draft-04';
import addFormats from 'ajv-formats';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

const cli = resolve('dist/cli.js');
const folder = mkdtempSync(join(tmpdir(), 'cardcage-cli-'));
const asFound = resolve('examples/tide-gauge/as-found.pinout');
const clean = resolve('examples/tide-gauge/tide-gauge.pinout');

beforeAll(() => {
  const built = spawnSync(process.execPath, ['.build/build.mjs'], { encoding: 'utf8' });
  expect(built.status, built.stderr).toBe(0);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

function run(...args: string[]): Ran {
  const { status, stdout, stderr } = spawnSync(process.execPath, [cli, ...args], {
    cwd: folder,
    encoding: 'utf8',
    maxBuffer: 64 * 1024 * 1024,
  });
  return { code: status, out: stdout, err: stderr };
}

function file(name: string, content: string | Uint8Array): string {
  const path = join(folder, name);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, content);
  return path;
}

/** One clear line on standard error, exit code 2, nothing on standard output. */
function expectTrouble(ran: Ran, pattern: RegExp): void {
  expect(ran.err).toMatch(pattern);
  expect(ran.err.trim().split('\n')).toHaveLength(1);
  expect(ran.out).toBe('');
  expect(ran.code).toBe(2);
}

describe('check', () => {
  test('a clean machine: exit 0', () => {
    const { code, out } = run('check', clean);
    expect(out).toMatch(/0 errors, 0 warnings, 0 questions/);
    expect(code).toBe(0);
  });

  test('the machine as found: exit 1, or as --fail-on says', () => {
    expect(run('check', asFound).code).toBe(1);
    expect(run('check', asFound, '--fail-on', 'warning').code).toBe(1);
    expect(run('check', asFound, '--fail-on', 'never').code).toBe(0);
  });

  test('a warning alone fails only where it is asked to', () => {
    const path = file('warning.pinout', 'pinout 1\nallow rail-unused at +24V "none here"\n');
    expect(run('check', path).code).toBe(0);
    expect(run('check', path, '--fail-on', 'warning').code).toBe(1);
  });

  test('text: the line with the place marked, the way, what to do; no colours off a terminal', () => {
    const { out } = run('check', asFound);
    expect(out).toMatch(/│ .*\n.*│ +\^+/);
    expect(out).toContain('way:');
    expect(out).toContain('do:');
    expect(out).not.toContain('\u001b');
  });

  test('json: the documented shape, with places that hold what they say', () => {
    const { out } = run('check', asFound, '--format', 'json');
    const { findings, summary } = JSON.parse(out);
    expect(Object.keys(summary)).toEqual([
      'files',
      'contacts',
      'nets',
      'errors',
      'warnings',
      'questions',
      'notes',
    ]);
    expect(summary.errors).toBe(
      findings.filter((one: { severity: string }) => one.severity === 'error').length,
    );
    for (const finding of findings) {
      expect(Object.keys(finding)).toEqual([
        'rule',
        'severity',
        'message',
        'file',
        'line',
        'column',
        'endLine',
        'endColumn',
        'path',
        'fix',
      ]);
      const lines = readFileSync(resolve(folder, finding.file), 'utf8').split('\n');
      expect(lines[finding.line - 1]!.slice(finding.column - 1).trim()).not.toBe('');
      for (const step of finding.path)
        expect(Object.keys(step)).toEqual(['contact', 'signal', 'evidence', 'file', 'line']);
    }
  });

  test('sarif: valid against the schema of SARIF 2.1.0', () => {
    const schema = JSON.parse(
      readFileSync('node_modules/@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json', 'utf8'),
    );
    const ajv = new Ajv({ strict: false, unicodeRegExp: false, allErrors: true });
    addFormats(ajv as never);
    const validate = ajv.compile(schema);
    for (const path of [asFound, clean, file('bad.pinout', 'x {\n"')]) {
      const log = JSON.parse(run('check', path, '--format', 'sarif').out);
      expect(validate(log), JSON.stringify(validate.errors?.slice(0, 3))).toBe(true);
    }
    const log = JSON.parse(run('check', asFound, '--format', 'sarif').out);
    expect(log.runs[0].results.length).toBeGreaterThan(10);
    delete log.runs[0].results[0].message;
    expect(validate(log), 'the schema refuses a result without a message').toBe(false);
  });

  test('a folder: each machine in it once, files that others use as part of them', () => {
    file('rack/main.pinout', 'pinout 1\nuse "bus.pinout"\n');
    file('rack/bus.pinout', 'pinout 1\nfrobnicate\n');
    const { out } = run('check', 'rack', '--format', 'json');
    const { findings, summary } = JSON.parse(out);
    expect(summary.files).toBe(2);
    expect(findings.map((one: { file: string }) => one.file)).toEqual(['rack/bus.pinout']);
  });

  test('hostile names reach the terminal without control characters', () => {
    const path = file(
      'hostile.pinout',
      'pinout 1\ncard A "\u001b[31m\u202e" {\n  frob\u001b]0;x\u0007 1\n}\n',
    );
    // biome-ignore lint/suspicious/noControlCharactersInRegex: exactly these must not be there.
    expect(run('check', path).out).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u202e]/);
  });
});

describe('bad input: one clear line, exit code 2', () => {
  test('a missing file', () =>
    expectTrouble(run('check', 'no-such.pinout'), /no-such\.pinout: there is no such file/));
  test('a folder without pinout files', () => {
    mkdirSync(join(folder, 'empty'), { recursive: true });
    expectTrouble(run('check', 'empty'), /empty: holds no \.pinout file/);
  });
  test('binary junk', () => {
    expectTrouble(
      run('check', file('junk.pinout', Uint8Array.from([0x7f, 0x45, 0x4c, 0x46, 0, 0, 0xff]))),
      /is not text in UTF-8/,
    );
    expectTrouble(run('check', file('nul.pinout', 'pinout 1\n\0\0')), /is not a text file/);
  });
  test('a file of 50 MB', () => {
    const path = file('large.pinout', 'pinout 1\n');
    truncateSync(path, 50 * 1024 * 1024);
    expectTrouble(run('check', path), /50 MB is more than a pinout file can be/);
  });
  test('one unreadable file in a folder: told, and the others are checked', () => {
    file('mixed/good.pinout', 'pinout 1\n');
    file('mixed/bad.pinout', Uint8Array.from([0xff, 0xfe, 0]));
    const ran = run('check', 'mixed');
    expect(ran.err).toMatch(/^cardcage: mixed\/bad\.pinout: is not text in UTF-8[^\n]*\n$/);
    expect(ran.out).toContain('in 1 file');
    expect(ran.code).toBe(2);
  });
  test('a device', () => expectTrouble(run('check', '/dev/zero'), /is not a plain file/));
  test('a file that changes while it is read', () => {
    // The kernel makes this file up at each reading: its size is not what it said before.
    expectTrouble(run('check', '/proc/self/status'), /changed while it was read/);
  });
  test('wrong usage', () => {
    for (const args of [
      [],
      ['check'],
      ['check', clean, '--format', 'xml'],
      ['check', clean, '--fail-on', 'note'],
      ['frob'],
      ['format', '--check', '--write', clean],
    ]) {
      const ran = run(...args);
      expect(ran.code, args.join(' ')).toBe(2);
      expect(ran.err, args.join(' ')).not.toBe('');
    }
  });
  test('a rule that does not exist', () => {
    expectTrouble(
      run('explain', 'rail-conflct'),
      /there is no rule `rail-conflct`; did you mean `rail-conflict`\?/,
    );
  });
  test('a contact that does not exist', () =>
    expectTrouble(
      run('nets', clean, '--of', 'BOX.99.1'),
      /has no contact or signal `BOX.99.1`; its backplane is CAGE, and a contact is written like CAGE\.1\.\w+/,
    ));
});

describe('use', () => {
  test('a circle, and a path out of the workspace, are errors at the `use`', () => {
    file('circle/a.pinout', 'pinout 1\nuse "b.pinout"\n');
    file('circle/b.pinout', 'pinout 1\nuse "a.pinout"\n');
    const circle = run('check', 'circle/a.pinout', '--format', 'json');
    expect(circle.code).toBe(1);
    expect(JSON.parse(circle.out).findings[0]).toMatchObject({
      rule: 'use-cycle',
      file: 'circle/b.pinout',
      line: 2,
    });
    const out = run('check', file('out.pinout', 'pinout 1\nuse "../../etc/passwd"\n'), '--format', 'json');
    expect(out.code).toBe(1);
    expect(JSON.parse(out.out).findings[0]).toMatchObject({ rule: 'use-outside', line: 2, column: 1 });
    const self = run('check', file('self.pinout', 'use "self.pinout"\n'), '--format', 'json');
    expect(JSON.parse(self.out).findings[0]).toMatchObject({ rule: 'use-cycle' });
  });

  test('a missing file and a missing table', () => {
    const ran = run(
      'check',
      file('miss.pinout', 'use "gone.pinout"\nuse published "vme-j9"\n'),
      '--format',
      'json',
    );
    expect(JSON.parse(ran.out).findings.map((one: { rule: string }) => one.rule)).toEqual([
      'use-missing',
      'use-missing',
    ]);
  });

  test('a link that leads out of the workspace', () => {
    symlinkSync('/etc/passwd', join(folder, 'link.pinout'));
    const ran = run('check', file('linked.pinout', 'use "link.pinout"\n'), '--format', 'json');
    expect(JSON.parse(ran.out).findings[0]).toMatchObject({ rule: 'use-outside' });
  });
});

describe('draw', () => {
  test('a machine with one bus needs no name', () => {
    const { code, out, err } = run('draw', clean);
    expect([code, err]).toEqual([0, '']);
    expect(out).toMatch(/^<svg .*<title>CAGE, bus MAIN<\/title>.*<\/svg>\n$/s);
  });

  test.each([
    ['connector', 'CPU.J2', 'CPU.J2, wiring side'],
    ['connector', 'IDC26', 'IDC26, wiring side'],
    ['ribbon', 'W1', 'ribbon W1'],
    ['bus', 'CAGE', 'CAGE, bus MAIN'],
  ])('%s of %s is written to a file', (view, of, title) => {
    const to = join(folder, 'drawing.svg');
    const { code, out } = run('draw', clean, '--view', view, '--of', of, '--side', 'wiring', '-o', to);
    expect([code, out]).toEqual([0, '']);
    expect(readFileSync(to, 'utf8')).toContain(`<title>${title}</title>`);
  });

  test('a wrong way to plug something in, the worst first', () => {
    const drawn = (...args: string[]) =>
      /<title>(.*?)<\/title>/.exec(run('draw', asFound, '--view', 'what-if', ...args).out)?.[1];
    expect(drawn('--of', 'all plugs')).toBe('what if: RAM-A put into CAGE.1');
    expect(drawn('--of', 'all plugs', '--case', '2')).toBe('what if: RAM-B put into CAGE.1');
    expect(drawn('--of', 'CPU', '--cases', 'all')).toMatch(/^what if: CPU /);
    // A ribbon stands for its first end.
    const [end] = /W1 at \S+?(?=,)/.exec(run('draw', asFound, '--view', 'what-if', '--of', 'W99').err)!;
    const all = ['--cases', 'all'];
    expect(drawn('--of', 'W1', ...all)).toBe(drawn('--of', end, ...all));
  });

  test.each([
    ['role', 'takes power', '>T</text>'],
    ['evidence', 'from a book', '>M</text>'],
    ['current', 'must sink of a low line, at worst', '>2.6A</text>'],
    ['readings', 'the last reading at the contact', '>open</text>'],
  ])('the marks of a bus show its %s', (marks, legend, value) => {
    const { code, out } = run('draw', asFound, '--marks', marks);
    expect(code).toBe(0);
    expect(out).toContain(`>${legend}</text>`);
    expect(out).toContain(value);
  });

  test('other marks are refused', () => {
    const { code, out, err } = run('draw', clean, '--marks', 'colour');
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(/role, evidence, current, readings/);
  });

  test('life-size is in millimetres', () => {
    const { out } = run('draw', clean, '--view', 'connector', '--of', 'EDGE44', '--scale', '1:1');
    expect(out).toMatch(/^<svg [^>]* width="[\d.]+mm" height="[\d.]+mm"/);
  });

  test.each<[RegExp, string[]]>([
    [/has no bus in a backplane `NOPE`; it has CAGE\.MAIN/, ['--of', 'NOPE']],
    [/has several to draw; say which with --of: PSU\.P1, /, ['--view', 'connector']],
    [/has no ribbon or cable `W9`; it has W1, /, ['--view', 'ribbon', '--of', 'W9']],
    [
      /connector DB25 does not say its pitch; .*`pitch 2\.54 mm`/,
      ['--view', 'connector', '--of', 'DB25', '--scale', '1:1'],
    ],
    [
      /CPU has no case 1 of those that do harm or cannot be judged, and that nothing prevents; --cases all counts through all/,
      ['--view', 'what-if', '--of', 'CPU'],
    ],
    [/has no .* `CPX`; did you mean `CPU`\?; it has/, ['--view', 'what-if', '--of', 'CPX']],
    [/has no .* `cpu`; did you mean `CPU`\?; it has/, ['--view', 'what-if', '--of', 'cpu']],
    [/CPU has no case 9999 of all/, ['--view', 'what-if', '--of', 'CPU', '--cases', 'all', '--case', '9999']],
    [/no-folder\/x\.svg: there is no such file or folder/, ['-o', 'no-folder/x.svg']],
  ])('says %s', (pattern, args) => expectTrouble(run('draw', clean, ...args), pattern));
});

describe('format', () => {
  const ugly = 'pinout 1\nsupply  PSU{\nrail +5V   5V\n}\n';
  const tidy = 'pinout 1\nsupply PSU {\n  rail    +5V    5 V\n}\n';

  test('prints, checks, writes', () => {
    const path = file('ugly.pinout', ugly);
    expect(run('format', path)).toMatchObject({ code: 0, out: tidy });
    expect(run('format', '--check', path)).toMatchObject({ code: 1 });
    expect(readFileSync(path, 'utf8')).toBe(ugly);
    expect(run('format', '--write', path)).toMatchObject({ code: 0, out: '' });
    expect(readFileSync(path, 'utf8')).toBe(tidy);
    expect(run('format', '--check', path)).toMatchObject({ code: 0, out: '' });
  });

  test('a read-only target: nothing is written, also not to the files beside it', () => {
    const first = file('first.pinout', ugly);
    const second = file('second.pinout', ugly);
    chmodSync(second, 0o444);
    const before = readdirSync(folder);
    expectTrouble(
      run('format', '--write', first, second),
      /second\.pinout: is read-only; nothing was written/,
    );
    expect(readFileSync(first, 'utf8')).toBe(ugly);
    expect(readFileSync(second, 'utf8')).toBe(ugly);
    expect(readdirSync(folder)).toEqual(before);
  });

  test('a missing file among others: nothing is written', () => {
    const path = file('beside.pinout', ugly);
    expect(run('format', '--write', path, 'gone.pinout').code).toBe(2);
    expect(readFileSync(path, 'utf8')).toBe(ugly);
  });
});

describe('nets, rules, explain', () => {
  test('the net of a contact: every contact joined with it', () => {
    const { nets } = JSON.parse(run('nets', clean, '--format', 'json', '--of', 'CAGE.3.4').out);
    expect(nets).toHaveLength(1);
    const contacts = nets[0].contacts.map((one: { contact: string }) => one.contact);
    expect(contacts).toContain('CAGE.1.4');
    expect(contacts).toContain('CAGE.8.4');
    expect(run('nets', clean).out).toContain('+5V');
  });

  test('every rule is listed and explained', () => {
    const { rules } = JSON.parse(run('rules', '--format', 'json').out);
    expect(rules.length).toBeGreaterThan(40);
    const text = run('rules').out;
    for (const { id, severity } of rules) expect(text).toMatch(new RegExp(`^${id} +${severity}`, 'm'));
    expect(run('explain', 'rail-conflict').out).toMatch(/^# rail-conflict\n/);
  });
});
