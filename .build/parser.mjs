// A grammar's parser. Peggy reads and checks the grammar; the code is written here, as short as it can be, because the
// extension is loaded whole each time an editor starts, and reads one line at a time.
import peggy from 'peggy';

/**
 * Grammar text → JavaScript module with `parse(text, rule)`: what the rule makes of the text, or what it expected and at
 * which offset. Throws Peggy's error, which carries its place, where the grammar does not read.
 *
 * Each rule is a function that returns what it found, or something falsy with the position put back: so a sequence is
 * `a() && b()` and a choice is `a() || b()`. What a rule finds is therefore never falsy, except where it cannot fail.
 */
export function parserModule(text, path) {
  // The line forms; rules that others are made of have names with a capital.
  const starts = [...text.matchAll(/^[a-z]+(?= = )/gm)].map(([name]) => name);
  const grammar = peggy.generate(text, { output: 'ast', allowedStartRules: starts, grammarSource: path });
  const written = writer();
  const rules = grammar.rules.map(written.rule);
  return `${grammar.topLevelInitializer.code}
export const parse = (() => {
  ${ROUTINES}
  ${[...written.constants(), ...written.functions(), ...rules].join('\n  ')}
  const $starts = { ${starts.map((name) => `${name}: $read_${name}`).join(', ')} };
  return (text, rule) => {
    $input = text;
    $position = $saved = $furthest = $silent = 0;
    $expected = [];
    const found = $starts[rule]();
    if (!found) return { expected: $expected.map($said), offset: $furthest };
    if ($position < text.length) return { expected: [{ type: 'end' }], offset: $position };
    return found;
  };
})();
`;
}

/**
 * What all rules do. The state is made once and put back by each call: the parser does not call itself. What is wrong is
 * said in the trade's words (problems.ts) of what was expected and where, so nothing else is kept of a failure.
 */
const ROUTINES = `
  let $input = '';
  let $position = 0;
  let $saved = 0;
  let $furthest = 0;
  let $expected = [];
  let $silent = 0;
  const range = () => ({ start: $saved, end: $position });
  const $CHARACTER = { type: 'character' };
  const $other = (description) => ({ type: 'other', description });
  const $said = (what) => (typeof what === 'string' ? { type: 'literal', text: what } : what);
  function $fail(what) {
    if ($silent > 0 || $position < $furthest) return;
    if ($position > $furthest) {
      $furthest = $position;
      $expected = [];
    }
    $expected.push(what);
  }
  function $back(to) {
    $position = to;
  }
  function $word(what) {
    if (!$input.startsWith(what, $position)) return $fail(what);
    $position += what.length;
    return what;
  }
  function $character(kind) {
    const found = $input.charAt($position);
    if (!kind.test(found)) return $fail($CHARACTER);
    $position++;
    return found;
  }
  function $letter(kind) {
    const code = $input.codePointAt($position);
    const found = code === undefined ? '' : String.fromCodePoint(code);
    if (!kind.test(found)) return $fail($CHARACTER);
    $position += found.length;
    return found;
  }
  function $any() {
    if ($position >= $input.length) return $fail($CHARACTER);
    return $input.charAt($position++);
  }
  function $many(rule) {
    const all = [];
    for (let one = rule(); one; one = rule()) all.push(one);
    return all;
  }
  function $some(rule) {
    const all = $many(rule);
    return all.length > 0 && all;
  }
  function $skip(rule) {
    while (rule());
    return true;
  }
  function $times(count, rule) {
    const start = $position;
    for (let i = 0; i < count; i++) if (!rule()) return $back(start);
    return true;
  }
  function $not(rule) {
    const start = $position;
    $silent++;
    const found = rule();
    $silent--;
    $position = start;
    return !found;
  }
  function $named(what, rule) {
    $silent++;
    const found = rule();
    $silent--;
    return found || $fail(what);
  }`;

/** Writes expressions. Gathers what they need at the outermost level: words and classes, actions, and parts of rules. */
function writer() {
  const constants = new Map();
  const actions = new Map();
  const parts = new Map();

  /** The name of a value that is made once, however many rules use it. */
  function constant(value) {
    if (!constants.has(value)) constants.set(value, `$made${constants.size}`);
    return constants.get(value);
  }

  /** What is done with what the labels of its own sequence read: one function, however many rules do the same. */
  function act(code, scope) {
    const used = [...scope.labels].filter((label) => new RegExp(`\\b${label}\\b`).test(code));
    const action = `(${used.join(', ')}) {${code}}`;
    if (!actions.has(action)) actions.set(action, `$act${actions.size}`);
    return `${actions.get(action)}(${used.map((label) => `$its_${label}`).join(', ')})`;
  }

  /** The name of a function that reads an expression: the rule's own where it is one. It knows no labels around it. */
  function reader(expression, unread) {
    if (expression.type === 'group') return reader(expression.expression, unread);
    if (expression.type === 'rule_ref') return `$read_${expression.name}`;
    const part = body(expression, unread);
    if (!parts.has(part)) parts.set(part, `$part${parts.size}`);
    return parts.get(part);
  }

  /** `unread`: nobody looks at what is found, only whether something is. */
  function body(expression, unread = false) {
    const scope = { labels: new Set(), locals: new Set(), unread };
    const found = write(expression, scope);
    const own = scope.locals.size > 0 ? `let ${[...scope.locals].join(', ')}; ` : '';
    return `() { ${own}return ${found}; }`;
  }

  function local(name, { locals }) {
    locals.add(name);
    return name;
  }

  /** Elements one after the other and what comes of them: a result, else what the picked one finds. */
  function sequence(elements, scope, result) {
    // Where only the first can fail, which puts the position back itself, there is nothing more to put back.
    const backs = elements.slice(1).some(({ match }) => match !== 1);
    const start = backs || result ? local(`$start${scope.locals.size}`, scope) : '';
    const last = elements.at(-1);
    let end = 'true';
    const steps = elements.map((element) => {
      if (!element.pick) return write(element, { ...scope, unread: true });
      const found = write(element.expression, { ...scope, unread: false });
      if (element === last) return found;
      end = local(`$picked${scope.locals.size}`, scope);
      return `(${end} = ${found})`;
    });
    if (result) end = `($saved = ${start}, ${result()})`;
    else if (last.pick || (end === 'true' && last.match !== 1)) end = steps.pop();
    const all = steps.reduceRight((rest, step, i) => then(elements[i], step, rest), end);
    return `(${start && `${start} = $position, `}${all}${backs ? ` || $back(${start})` : ''})`;
  }

  /** The next after one that Peggy knows cannot fail (1), or may. */
  function then({ match }, step, next) {
    return match === 1 ? `(${step}, ${next})` : `${step} && ${next}`;
  }

  function write(node, scope) {
    switch (node.type) {
      case 'rule_ref':
        return `$read_${node.name}()`;
      case 'literal':
        if (node.ignoreCase) break;
        return `$word(${JSON.stringify(node.value)})`;
      case 'class':
        if (node.ignoreCase) break;
        return `${node.unicode ? '$letter' : '$character'}(${constant(pattern(node))})`;
      case 'any':
        return '$any()';
      case 'group':
        return write(node.expression, scope);
      case 'labeled':
        scope.labels.add(node.label);
        return `(${local(`$its_${node.label}`, scope)} = ${write(node.expression, { ...scope, unread: false })})`;
      case 'choice':
        return `(${node.alternatives.map((one) => write(one, scope)).join(' || ')})`;
      case 'optional':
        return `(${write(node.expression, scope)} || null)`;
      case 'zero_or_more':
        return `${scope.unread ? '$skip' : '$many'}(${reader(node.expression, scope.unread)})`;
      case 'one_or_more':
        if (!scope.unread) return `$some(${reader(node.expression)})`;
        return `${write(node.expression, scope)} && $skip(${reader(node.expression, true)})`;
      case 'repeated':
        if (node.min !== null || node.delimiter !== null) break;
        return `$times(${node.max.value}, ${reader(node.expression, true)})`;
      case 'simple_not':
        return `$not(${reader(node.expression, true)})`;
      case 'semantic_and':
        return `($saved = $position, ${act(node.code, scope)})`;
      case 'named':
        return `$named(${constant(`$other(${JSON.stringify(node.name)})`)}, ${reader(node.expression)})`;
      case 'text': {
        const start = local(`$start${scope.locals.size}`, scope);
        const text = `$input.slice(${start}, $position)`;
        return `(${start} = $position, ${then(node.expression, write(node.expression, { ...scope, unread: true }), text)})`;
      }
      case 'sequence':
        if (node.elements.filter(({ pick }) => pick).length > 1) break;
        return sequence(node.elements, scope);
      case 'action': {
        const { expression, code } = node;
        const inner = { ...scope, labels: new Set(), unread: false };
        return sequence(expression.elements ?? [expression], inner, () => act(code, inner));
      }
    }
    throw new Error(`.build/parser.mjs does not know this form of "${node.type}"`);
  }

  return {
    rule: ({ name, expression }) => `function $read_${name}${body(expression)}`,
    constants: () => [...constants].map(([value, name]) => `const ${name} = ${value};`),
    functions: () => [...actions, ...parts].map(([code, name]) => `function ${name}${code}`),
  };
}

/** A class of characters as a regular expression. */
function pattern({ parts, inverted, unicode }) {
  const escaped = (text) => text.replace(/[\\\]^/-]/g, '\\$&');
  const members = parts.map((part) => {
    if (Array.isArray(part)) return part.map(escaped).join('-');
    return typeof part === 'string' ? escaped(part) : `\\${part.value}`;
  });
  return `/^[${inverted ? '^' : ''}${members.join('')}]/${unicode ? 'u' : ''}`;
}
