import type { Cell } from '../drawing/picture.ts';
import { isSame } from '../drawing/places.ts';
import { isSameDrawing, type ToHost, type Wanted } from '../drawing/to-host.ts';
import {
  arrived,
  type Menu,
  NOTHING_TO_DRAW,
  readToPage,
  type Shown,
  type ToPage,
} from '../drawing/to-page.ts';
import { unknownSaid } from '../drawing/what-if-harms.ts';
import type { DrawnCase, DrawnHarm } from '../drawing/what-if-picture.ts';
import './page.css';
import { controlsFor } from './controls.ts';
import { pngOf } from './save.ts';
import { fileOf, followed, hindrance, sceneOf } from './scene.ts';
import { measureFrame, stageIn } from './stage.ts';
import { readState, type State, turned } from './state.ts';
import { useTheme } from './theme.ts';
import { toldIn } from './told.ts';
import { provideControls } from './toolkit.ts';
import { caseBeside, isStillToCome, wantedAs } from './wanted.ts';

declare function acquireVsCodeApi(): {
  postMessage(message: ToHost): void;
  getState(): unknown;
  setState(state: State): void;
};

const host = acquireVsCodeApi();
let state = readState(host.getState());
let menu: Menu = NOTHING_TO_DRAW;
let shown: Shown | undefined;
let version = -1;
/** What somebody has chosen that is not drawn yet: what comes meanwhile is of an earlier choice, and does not undo this one. */
let wanting: Wanted | undefined;
/** Scrolled to once the first picture is there. */
let place: { readonly left: number; readonly top: number } | undefined = { left: state.left, top: state.top };
/** What the pointer is on, until something else is chosen. */
let pointed: Cell | undefined;
let asking: ReturnType<typeof setTimeout> | undefined;
/** What the host was last asked of, and whether the answer is for those who listen: the keyboard has moved there. */
let asked: { readonly cell: Cell; readonly aloud: boolean } | undefined;

/** ms that the pointer rests on a cell before it is asked what there is to tell. */
const REST = 60;
const HINT =
  'Point at a line, a slot or a contact, or move with the arrow keys, to see its net and what is known of it.';

/** Keys that step through the cases of a what-if. */
const STEPS: Readonly<Record<string, number>> = { n: 1, p: -1 };

useTheme();
provideControls();

const stage = stageIn({
  point(cell) {
    pointed = cell;
    ask(cell ?? state.selected, REST);
  },
  select(cell) {
    pointed = undefined;
    keep({ selected: cell });
    ask(cell, 0, true);
  },
  go: (cell) => host.postMessage({ kind: 'go', version, cell }),
  scrolled: (left, top) => keep({ left, top }),
});
const told = toldIn();
const controls = controlsFor({
  want,
  step,
  key() {
    // The button goes once its key is there: the keyboard goes to what it is about.
    stage.element.focus();
    host.postMessage({ kind: 'key', version });
  },
  look,
  save: (format) => void save(format),
});

function want(wanted: Wanted): void {
  wanting = wanted;
  updateControls();
  host.postMessage({ kind: 'choose', wanted });
}

/** To the case so many behind the one that is wanted, if there is one. */
function step(by: number): void {
  const next = shown && caseBeside(shown, wanting ?? state.wanted, by);
  if (next) want(next);
}

function keep(change: Partial<State>): void {
  state = { ...state, ...change };
  host.setState(state);
}

/** Draws what is shown in another way. */
function look(change: Partial<State>): void {
  keep(change);
  show();
}

function updateControls(): void {
  controls.update(state, menu, shown, wanting ?? state.wanted);
}

/** Draws what has arrived, as it is wanted to look. */
function show(): void {
  updateControls();
  if (shown === undefined) return;
  stage.show(sceneOf(shown, state));
  if (asked === undefined) told.tell(hint());
}

/** What is told while nothing is pointed at. */
function hint(): string {
  const hindered = shown && hindrance(shown, state);
  if (shown?.view === 'what-if' && shown.picture.shown) return caseHint(shown.picture.shown);
  return hindered === undefined ? HINT : `**Not life-size.** ${hindered}.`;
}

const verdictOf = (one: Shown | undefined): string | undefined =>
  one?.view === 'what-if' ? one.picture.shown?.verdict : undefined;

/** The case in words: for those who listen while they step through, and in short for those who read. */
function caseHint({
  says,
  verdict,
  harms,
  does: judged,
  unknown,
}: Pick<DrawnCase, 'says' | 'verdict' | 'does' | 'unknown'> & {
  harms: readonly Pick<DrawnHarm, 'word' | 'says'>[];
}): string {
  const [worst] = harms;
  const first = worst === undefined ? 'nothing happens' : `${worst.word}: ${worst.says}`;
  const does = judged === 'unknown' ? unknownSaid(judged, unknown) : first;
  const text = `${says}; ${verdict}; ${does}.`.replace(/[\\`*_[\]<>&|~]/g, (one) => `\\${one}`);
  return `${text}\n\nPoint at a contact, or move with the arrow keys, to see what it meets and what is known of it.`;
}

function ask(cell: Cell | undefined, after: number, aloud = false): void {
  clearTimeout(asking);
  asked = cell && { cell, aloud };
  if (cell === undefined) told.tell(hint());
  else asking = setTimeout(() => host.postMessage({ kind: 'tell', version, cell }), after);
}

async function save(format: 'svg' | 'png'): Promise<void> {
  if (shown === undefined) return;
  const [svg, name] = [fileOf(shown, state), nameOf(state)];
  try {
    const data = format === 'svg' ? svg : await pngOf(svg);
    host.postMessage({ kind: 'save', name, format, data });
  } catch {
    told.tell('**The picture cannot be painted as PNG**: it is too large. Save it as SVG.');
  }
}

/** `CAGE.MAIN-evidence`, `CPU.J2-wiring` */
function nameOf({ wanted, marks, side }: State): string {
  if (shown?.view === 'what-if') return `what-if-${shown.picture.shown?.says ?? wanted.of}`;
  const how = wanted.view === 'connector' ? side : wanted.view === 'bus' && marks !== 'role' ? marks : '';
  return how === '' ? wanted.of : `${wanted.of}-${how}`;
}

function hear(message: ToPage): void {
  switch (message.kind) {
    case 'drawing': {
      const before = shown && { version, shown };
      const now = arrived(message.sent, before);
      if (now === undefined) {
        // Something is missing to put it together: the whole is sent after this.
        host.postMessage({ kind: 'ready' });
        return;
      }
      const wanted = wantedAs(now, message.of);
      const other = !isSameDrawing(wanted, state.wanted);
      ({ menu, version } = message);
      const { selected: chosen, ...rest } = state;
      const selected = chosen && (shown && !other ? followed(chosen, shown, now) : chosen);
      state = {
        ...rest,
        ...(selected ? { selected } : {}),
        root: message.root,
        wanted,
      };
      shown = now;
      if (wanting && !isStillToCome(wanting, wanted, now, menu)) wanting = undefined;
      if (other) forget();
      else stage.select(state.selected);
      keep({});
      document.title = message.of;
      document.body.classList.remove('empty');
      show();
      if (other) stage.scrollTo(0, 0);
      else if (place) stage.scrollTo(place.left, place.top);
      place = undefined;
      ask(pointed ?? state.selected, REST);
      if (now.view === 'what-if' && (other || verdictOf(before?.shown) !== verdictOf(now)))
        told.tell(hint(), true);
      measureFrame('cardcage:picture', message.at - performance.timeOrigin);
      return;
    }
    case 'nothing':
      ({ menu } = message);
      shown = undefined;
      keep({ root: message.root });
      document.body.classList.add('empty');
      stage.clear();
      wanting = undefined;
      updateControls();
      asked = undefined;
      told.tell(message.why, true);
      return;
    case 'cursor':
      if (message.version === version) stage.follow(message.cells);
      return;
    case 'select':
      if (message.version !== version) return;
      pointed = undefined;
      keep({ selected: message.cell });
      stage.select(message.cell, true);
      ask(message.cell, 0, true);
      return;
    case 'told':
      if (message.version === version && asked && isSame(asked.cell, message.cell))
        told.tell(message.markdown, asked.aloud);
  }
}

/** Lets go of what is chosen and filtered: a cell of one drawing is another in the next. */
function forget(): void {
  const { selected: _, ...rest } = state;
  state = { ...rest, filter: {} };
  pointed = undefined;
  stage.select(undefined);
}

const main = document.createElement('main');
main.append(stage.element, told.element);
document.body.append(controls.element, main, told.aloud);
told.tell(HINT);

// Who comes by key finds the keyboard where it was left: on the drawing at first.
let left: HTMLElement = stage.element;
document.addEventListener('focusin', ({ target }) => {
  if (target instanceof HTMLElement) left = target;
});
window.addEventListener('focus', () => {
  if (document.activeElement === document.body) (left.checkVisibility() ? left : stage.element).focus();
});
window.addEventListener('message', ({ data }: MessageEvent<unknown>) => {
  const message = readToPage(data);
  if (message !== undefined) hear(message);
  else
    told.tell(
      '**This drawing cannot be shown**: what it is made from could not be read. Close it and open it again.',
    );
});
window.addEventListener('keydown', (event) => {
  const control =
    event.target instanceof Element && event.target.closest('vscode-text-field, vscode-dropdown');
  if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
  if (event.key === 'Escape') {
    // The first Escape closes a list that is open; that is the control's own.
    if (control) stage.element.focus();
    else {
      forget();
      look({});
      ask(undefined, 0);
    }
    return;
  }
  if (control) return;
  if (event.key === '/' && shown?.view === 'bus') {
    event.preventDefault();
    controls.focusFilter();
  } else if (event.key.toLowerCase() === 's' && shown?.view === 'connector') {
    look({ side: turned(state) });
  } else if (STEPS[event.key.toLowerCase()] !== undefined) step(STEPS[event.key.toLowerCase()]!);
});
host.postMessage({ kind: 'ready' });
