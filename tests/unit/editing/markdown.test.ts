import { describe, expect, it } from 'vitest';
import { code, codes, plain, table } from '../../../src/editing/markdown.ts';

describe('markdown', () => {
  it('writes names in the face of code, whatever they hold', () => {
    expect(code('/IRQ*')).toBe('`/IRQ*`');
    expect(code('<img src=x onerror=alert(1)>')).toBe('`<img src=x onerror=alert(1)>`');
    expect(code('a`b')).toBe('`` a`b ``');
    expect(code('``')).toBe('``` `` ```');
    expect(code('a\u202eb\u0007')).toBe('`a?b?`');
    expect(code('')).toBe('');
  });

  it('writes text so that none of it is a tag, a link, a heading or a list', () => {
    expect(plain('<b>[x](http://a.b)</b> | `c` *d* &lt; $(bug)')).toBe(
      '\\<b>\\[x\\](http\\://a.b)\\</b> \\| \\`c\\` \\*d\\* \\&lt; \\$(bug)',
    );
    expect(plain('# no heading')).toBe('\\# no heading');
    expect(plain('1. no list')).toBe('1\\. no list');
    expect(plain('see www.a.b')).toBe('see www\\.a.b');
  });

  it('cuts what is too long to be read beside a pointer', () => {
    expect(code('`'.repeat(1e6)).length).toBeLessThan(1300);
    expect(plain('x'.repeat(1e6))).toHaveLength(401);
  });

  it('keeps a pipe within its cell, in code too', () => {
    expect(table(['line'], [[code('a|b')], ['x \\| y']])).toBe('| line |\n| --- |\n| `a\\|b` |\n| x \\| y |');
  });

  it('counts the rest of a long list', () => {
    expect(codes(['A', 'B', 'C', 'D'], 3)).toBe('`A`, `B` and 2 more');
    expect(codes(['A', 'B', 'C'], 3)).toBe('`A`, `B`, `C`');
  });
});
