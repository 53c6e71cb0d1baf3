// A grammar's parser: Peggy's rules in a shell of our own, as the extension is loaded whole and reads one line at a time.
import peggy from 'peggy';

/**
 * Grammar text → JavaScript module with `parse(text, rule)`: what the rule makes of the text, or what it expected and at
 * which offset. Throws Peggy's error, which carries its place, where the grammar does not read.
 */
export function parserModule(text, path) {
  const source = peggy.generate(text, {
    format: 'es',
    output: 'source',
    // The line forms; rules that others are made of have names with a capital.
    allowedStartRules: [...text.matchAll(/^[a-z]+(?= = )/gm)].map(([name]) => name),
    cache: false,
    grammarSource: path,
  });
  return shell(partsOf(actedOnce(source)));
}

/** What of Peggy's module is the grammar's own: what it starts with, its rules, and the words and actions these use. */
function partsOf(source) {
  const [initializer, parser] = cut(source, 'class peg$SyntaxError ');
  const [, starts] = cut(parser, '  const peg$startRuleFunctions = ');
  const [startRules, constants] = cut(starts, '  let peg$startRuleFunction = ');
  const [, words] = cut(constants, ';\n');
  const [actions, state] = cut(words, '  let peg$currPos = options');
  const [, helpers] = cut(state, '  function peg$literalExpectation(');
  const [makers, positions] = cut(helpers, '  function peg$computePosDetails(');
  const [, ruled] = cut(positions, '  function peg$parse');
  const [rules] = cut(ruled, '  peg$result = peg$startRuleFunction();\n');
  return {
    initializer,
    startRules,
    expectations: `function peg$literalExpectation(${makers}${actions}`,
    rules: stepped(`function peg$parse${rules}`),
  };
}

/**
 * Peggy's parser makes its rules, words and expectations anew at each call, which costs more than reading one line does.
 * They depend on nothing but the position, so they are made once here, and each call starts by putting that back. The
 * parser does not call itself, so one set of positions serves. What is wrong is said in the trade's words (problems.ts),
 * of what was expected and where: what does not read is these two, and no error with a text.
 */
function shell({ initializer, startRules, expectations, rules }) {
  return `${initializer}
export const parse = (() => {
  const peg$FAILED = {};
  const peg$startRuleFunctions = ${startRules}
  let input = '';
  let peg$currPos = 0;
  let peg$savedPos = 0;
  let peg$maxFailPos = 0;
  let peg$maxFailExpected = [];
  let peg$silentFails = 0;
  ${expectations}
  function range() {
    return { start: peg$savedPos, end: peg$currPos };
  }

  function peg$getUnicode() {
    const code = input.codePointAt(peg$currPos);
    return code === undefined ? '' : String.fromCodePoint(code);
  }

  function peg$fail(expected) {
    if (peg$silentFails > 0 || peg$currPos < peg$maxFailPos) return;
    if (peg$currPos > peg$maxFailPos) {
      peg$maxFailPos = peg$currPos;
      peg$maxFailExpected = [];
    }
    peg$maxFailExpected.push(expected);
  }

  function peg$word(expected) {
    if (input.startsWith(expected.text, peg$currPos)) {
      peg$currPos += expected.text.length;
      return expected.text;
    }
    peg$fail(expected);
    return peg$FAILED;
  }

  function peg$character(kind, expected) {
    const found = input.charAt(peg$currPos);
    if (kind.test(found)) {
      peg$currPos++;
      return found;
    }
    peg$fail(expected);
    return peg$FAILED;
  }

  ${rules}
  return (text, rule) => {
    input = text;
    peg$currPos = peg$savedPos = peg$maxFailPos = peg$silentFails = 0;
    peg$maxFailExpected = [];
    const result = peg$startRuleFunctions[rule]();
    if (result === peg$FAILED) return { expected: peg$maxFailExpected, offset: peg$maxFailPos };
    if (peg$currPos < input.length) return { expected: [peg$endExpectation()], offset: peg$currPos };
    return result;
  };
})();
`;
}

/** How Peggy writes "this word stands here" (twice) and "a character of this class stands here", each time in full. */
const WORD =
  /if \(input\.substr\(peg\$currPos, \d+\) === peg\$c\d+\) \{\s*(s\d+) = peg\$c\d+;\s*peg\$currPos \+= \d+;\s*\} else \{\s*\1 = peg\$FAILED;\s*if \(peg\$silentFails === 0\) \{ peg\$fail\((peg\$e\d+)\); \}\s*\}/g;
const MARK =
  /if \(input\.charCodeAt\(peg\$currPos\) === \d+\) \{\s*(s\d+) = peg\$c\d+;\s*peg\$currPos\+\+;\s*\} else \{\s*\1 = peg\$FAILED;\s*if \(peg\$silentFails === 0\) \{ peg\$fail\((peg\$e\d+)\); \}\s*\}/g;
const CLASS =
  /(s\d+) = input\.charAt\(peg\$currPos\);\s*if \((peg\$r\d+)\.test\(\1\)\) \{\s*peg\$currPos\+\+;\s*\} else \{\s*\1 = peg\$FAILED;\s*if \(peg\$silentFails === 0\) \{ peg\$fail\((peg\$e\d+)\); \}\s*\}/g;
const FAIL = /if \(peg\$silentFails === 0\) \{ peg\$fail\((peg\$e\d+)\); \}/g;

/** The same rules with one function for each of these. */
function stepped(rules) {
  return rules
    .replace(WORD, '$1 = peg$$word($2);')
    .replace(MARK, '$1 = peg$$word($2);')
    .replace(CLASS, '$1 = peg$$character($2, $3);')
    .replace(FAIL, 'peg$$fail($1);');
}

/** What several rules do with what they read is one function: the first that does it. */
function actedOnce(source) {
  const first = new Map();
  const same = new Map();
  const without = source.replace(/ {2}function (peg\$f\d+)(\(.*\) \{.*\})\n/g, (whole, name, action) => {
    if (!first.has(action)) first.set(action, name);
    else same.set(name, first.get(action));
    return same.has(name) ? '' : whole;
  });
  return without.replace(/peg\$f\d+(?=\()/g, (name) => same.get(name) ?? name);
}

/** The text before and after a mark. Throws where a newer Peggy generates another shape. */
function cut(text, mark) {
  const at = text.indexOf(mark);
  if (at < 0) throw new Error(`Peggy's parser has no "${mark.trim()}" any more: see .build/parser.mjs`);
  return [text.slice(0, at), text.slice(at + mark.length)];
}
