/** What a name in the text is a name of. */
export type SymbolKind =
  | 'supply'
  | 'connector'
  | 'bus'
  | 'backplane'
  | 'card'
  | 'board'
  | 'port'
  | 'ribbon'
  | 'cable'
  | 'part'
  | 'slot'
  | 'contact'
  | 'label'
  | 'name';

/**
 * How the items of a line are read. `place` is a dotted path or a name; `buses` are places and buses in turn, `legs`
 * values and rails in turn, `need` a rail and its current, `with` a part behind its count.
 */
export type Reading =
  | { readonly kind: SymbolKind; readonly defines?: true }
  | { readonly kind: 'place' | 'buses' | 'legs' | 'need' | 'with' };

const defines = (kind: SymbolKind): Reading => ({ kind, defines: true });
const kind = (one: Reading['kind']): Reading => ({ kind: one }) as Reading;

const WITH = { with: kind('with') };
const BIAS = {
  '': kind('name'),
  legs: kind('legs'),
  after: kind('slot'),
  before: kind('slot'),
  at: kind('port'),
  as: defines('label'),
};
const DOES = { '': kind('name'), ...WITH, at: kind('port') };

/**
 * For each line form, how its subject (key `''`) and its attributes are read. What is not listed names nothing. A test
 * holds this table against the line forms.
 */
export const readings: Readonly<Record<string, Readonly<Record<string, Reading>>>> = {
  activelow: { '': kind('name') },
  allow: { at: kind('place') },
  supply: { '': defines('supply') },
  connector: { '': defines('connector') },
  bus: { '': defines('bus'), on: kind('connector') },
  backplane: { '': defines('backplane') },
  card: { '': defines('card') },
  fitted: { '': kind('backplane') },
  loose: { '': kind('card'), as: defines('board') },
  ribbon: { '': defines('ribbon') },
  cable: { '': defines('cable') },
  family: { '': defines('part') },
  parttable: { '': defines('part') },
  rail: { '': defines('name') },
  ground: { '': defines('name') },
  sense: { '': defines('name'), for: kind('name') },
  order: { '': kind('name') },
  strap: { '': kind('place') },
  numbers: { '': defines('contact') },
  conductors: { '': kind('contact') },
  key: { between: kind('contact') },
  pulled: { '': kind('contact') },
  plugged: { '': kind('contact') },
  entry: {
    '': kind('contact'),
    out: kind('contact'),
    is: defines('name'),
    isout: defines('name'),
    also: defines('name'),
    in: kind('slot'),
  },
  slots: { '': defines('slot'), on: kind('buses'), key: kind('contact') },
  feed: { '': kind('name'), from: kind('supply'), at: kind('contact') },
  terminate: BIAS,
  pullup: BIAS,
  pulldown: BIAS,
  line: { '': kind('name') },
  wire: { '': kind('place'), to: kind('place') },
  cut: { '': kind('place'), between: kind('slot') },
  port: { '': defines('port'), on: kind('connector') },
  edge: { '': defines('port'), on: kind('bus') },
  takes: { '': kind('name'), at: kind('port') },
  drives: DOES,
  transceives: DOES,
  receives: DOES,
  pulls: DOES,
  starts: DOES,
  passes: DOES,
  untouched: { '': kind('name') },
  makes: { '': kind('name'), from: kind('name'), ...WITH },
  chip: { '': defines('label'), ...WITH, need: kind('need') },
  slot: { '': kind('slot'), is: kind('card'), as: defines('board'), bridge: kind('name') },
  without: { '': kind('label') },
  end: { '': kind('place'), stripe: kind('contact') },
  join: { '': kind('place'), is: kind('place') },
  reading: { '': kind('place'), to: kind('place') },
  like: { '': kind('part') },
  needs: { '': kind('name') },
  first: { '': kind('name') },
};
