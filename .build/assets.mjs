// What can be imported besides TypeScript: a grammar (compiled) and a text (as its string).
// One set of transforms, so that what the tests run is what the bundles hold.
import { readFile } from 'node:fs/promises';
import peggy from 'peggy';

const GRAMMAR = /\.peggy$/;
const TEXT = /\.(?:md|pinout)$/;

/** Grammar text → JavaScript module with `parse` and `SyntaxError`. Throws peggy's error, which carries its place. */
function grammarModule(text, path) {
  const source = peggy.generate(text, {
    format: 'es',
    output: 'source',
    // The line forms; rules that others are made of have names with a capital.
    allowedStartRules: [...text.matchAll(/^[a-z]+(?= = )/gm)].map(([name]) => name),
    cache: false,
    grammarSource: path,
  });
  return madeOnce(withoutMessages(compact(source)));
}

/** How Peggy writes "this word stands here" (twice) and "a character of this class stands here", each time in full. */
const WORD =
  /if \(input\.substr\(peg\$currPos, \d+\) === (peg\$c\d+)\) \{\s*(s\d+) = \1;\s*peg\$currPos \+= (\d+);\s*\} else \{\s*\2 = peg\$FAILED;\s*if \(peg\$silentFails === 0\) \{ peg\$fail\((peg\$e\d+)\); \}\s*\}/g;
const MARK =
  /if \(input\.charCodeAt\(peg\$currPos\) === \d+\) \{\s*(s\d+) = (peg\$c\d+);\s*peg\$currPos\+\+;\s*\} else \{\s*\1 = peg\$FAILED;\s*if \(peg\$silentFails === 0\) \{ peg\$fail\((peg\$e\d+)\); \}\s*\}/g;
const CLASS =
  /(s\d+) = input\.charAt\(peg\$currPos\);\s*if \((peg\$r\d+)\.test\(\1\)\) \{\s*peg\$currPos\+\+;\s*\} else \{\s*\1 = peg\$FAILED;\s*if \(peg\$silentFails === 0\) \{ peg\$fail\((peg\$e\d+)\); \}\s*\}/g;

/** The same parser with one function for each of these: the extension is loaded at once, so its size counts. */
function compact(source) {
  const short = source
    .replace(WORD, '$2 = peg$word($1, $3, $4);')
    .replace(MARK, '$1 = peg$word($2, 1, $3);')
    .replace(CLASS, '$1 = peg$character($2, $3);');
  return sayOnce(short).replace(
    '  function peg$fail(',
    `  function peg$word(word, length, expected) {
    if (input.startsWith(word, peg$currPos)) {
      peg$currPos += length;
      return word;
    }
    if (peg$silentFails === 0) peg$fail(expected);
    return peg$FAILED;
  }

  function peg$character(kind, expected) {
    const found = input.charAt(peg$currPos);
    if (kind.test(found)) {
      peg$currPos++;
      return found;
    }
    if (peg$silentFails === 0) peg$fail(expected);
    return peg$FAILED;
  }

  function peg$fail(`.replaceAll('$', '$$$$'),
  );
}

/** A word that is looked for and expected is one constant. */
function sayOnce(source) {
  const constants = new Map();
  for (const [, name, word] of source.matchAll(/const (peg\$c\d+) = (".*?");\n/g)) constants.set(word, name);
  return source.replace(/peg\$literalExpectation\((".*?"), false\)/g, (whole, word) =>
    constants.has(word) ? `peg$literalExpectation(${constants.get(word)}, false)` : whole,
  );
}

/** Messages are made of what was expected, in the trade's words (problems.ts); Peggy's own are never read. */
function withoutMessages(source) {
  const [before, format] = cut(source, '\n  format(sources) {');
  const [, after] = cut(format, '\n}\n\nfunction peg$parse(');
  return `${before}\n}\n\nfunction peg$parse(${after}`.replace(
    'peg$SyntaxError.buildMessage(expected, found)',
    "''",
  );
}

/** The text before and after a mark. Throws where a newer Peggy generates another shape. */
function cut(text, mark) {
  const at = text.indexOf(mark);
  if (at < 0) throw new Error(`Peggy's parser has no "${mark.trim()}" any more: see .build/assets.mjs`);
  return [text.slice(0, at), text.slice(at + mark.length)];
}

/**
 * Peggy's parser makes its rules, words and expectations anew at each call, which costs more than reading one line does.
 * They depend on nothing but the position, so they are made once here, and each call starts by putting that back. The
 * parser does not call itself, so one set of positions serves.
 */
function madeOnce(source) {
  const [before, parser] = cut(source, 'function peg$parse(input, options) {\n');
  const [constants, started] = cut(parser, '  if (options.startRule) {\n');
  const [rule, rules] = cut(started, '\n  }\n\n  function text()');
  const [functions, ended] = cut(rules, '  peg$result = peg$startRuleFunction();\n');
  const [end, after] = cut(ended, '\n}\n');
  return `${before}const peg$parse = (() => {
  let input = '';
  let options = {};
${constants.replace('const peg$posDetailsCache', 'let peg$posDetailsCache')}
  function text()${functions}
  return (text, settings = {}) => {
    input = text;
    options = settings;
    peg$currPos = peg$savedPos = peg$maxFailPos = peg$silentFails = 0;
    peg$maxFailExpected = [];
    peg$posDetailsCache = [{ line: 1, column: 1 }];
    if (options.startRule) {
${rule}
    }
    peg$result = peg$startRuleFunction();
${end}
  };
})();
${after}`;
}

/** Any text → JavaScript module that exports it as default. */
function textModule(text) {
  return `export default ${JSON.stringify(text)};\n`;
}

/** Says a grammar's error the way a compiler does: path, line, column, what is wrong. */
function describe(error, path) {
  const start = error.location?.start;
  const place = start ? `${path}:${start.line}:${start.column}` : path;
  return `${place}: ${error.message}`;
}

export const esbuildAssets = {
  name: 'assets',
  setup(build) {
    build.onLoad({ filter: TEXT }, async ({ path }) => ({
      contents: textModule(await readFile(path, 'utf8')),
      loader: 'js',
    }));
    build.onLoad({ filter: GRAMMAR }, async ({ path }) => {
      try {
        return { contents: grammarModule(await readFile(path, 'utf8'), path), loader: 'js' };
      } catch (error) {
        return { errors: [{ text: describe(error, path) }] };
      }
    });
  },
};

export const viteAssets = {
  name: 'assets',
  enforce: 'pre',
  async load(id) {
    if (TEXT.test(id)) return { code: textModule(await readFile(id, 'utf8')), map: null };
    if (!GRAMMAR.test(id)) return null;
    try {
      return { code: grammarModule(await readFile(id, 'utf8'), id), map: null };
    } catch (error) {
      throw new Error(describe(error, id));
    }
  },
};
