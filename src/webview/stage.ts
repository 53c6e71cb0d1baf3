import type { DrawnPiece } from '../drawing/bus-svg.ts';
import type { Cell } from '../drawing/picture.ts';
import {
  type Box,
  findPlace,
  isSame,
  joinedWith,
  type Place,
  placeAt,
  type Step,
  stepFrom,
} from '../drawing/places.ts';
import type { Scene } from './scene.ts';

const SVG = 'http://www.w3.org/2000/svg';

/** What somebody does on the drawing. */
export interface Doings {
  /** Points at a cell, or at nothing any more. */
  point(cell: Cell | undefined): void;
  /** Chooses a cell, by key or click. */
  select(cell: Cell): void;
  /** Wants to see the statement behind it. */
  go(cell: Cell): void;
  scrolled(left: number, top: number): void;
}

/** The part of a page that holds the drawing. */
export interface Stage {
  readonly element: HTMLElement;
  /** Shows a drawing; of one that is there already, only the pieces that are not as they were are painted. */
  show(scene: Scene): void;
  clear(): void;
  /** Marks a cell as chosen. With `bring`, scrolls it into sight. */
  select(cell: Cell | undefined, bring?: boolean): void;
  /** Marks the cells that the editor's cursor is on. */
  follow(cells: readonly Cell[]): void;
  scrollTo(left: number, top: number): void;
}

/** A layer over one part of the drawing: marks of its own, which take no pointer. */
interface Layer {
  readonly box: HTMLElement;
  readonly pieces: { element: HTMLElement; drawn: string }[];
  readonly lines: { readonly cursor: Element; readonly lit: Element; readonly here: Element };
  readonly svg: Element;
  top: number;
}

export function stageIn(doings: Doings): Stage {
  const element = document.createElement('div');
  element.className = 'stage';
  element.tabIndex = 0;
  element.setAttribute('role', 'application');
  const sheet = document.createElement('div');
  sheet.className = 'sheet';
  const [head, body] = [layer('head'), layer('body')];
  sheet.append(head.box, body.box);
  element.append(sheet);

  let scene: Scene | undefined;
  let pointed: Cell | undefined;
  let selected: Cell | undefined;
  let cursor: readonly Cell[] = [];

  const places = (): readonly Place[] => scene?.places ?? [];
  const here = (cell: Cell | undefined): Place | undefined => cell && findPlace(places(), cell);

  /** Lights the net of what is pointed at, or else of what is chosen. */
  function light(): void {
    const place = here(pointed) ?? here(selected);
    draw('lit', place ? joinedWith(places(), place) : []);
    draw('here', place ? [place] : []);
  }

  const mark = (): void =>
    draw(
      'cursor',
      cursor.flatMap((cell) => here(cell) ?? []),
    );

  function draw(line: keyof Layer['lines'], boxes: readonly Box[]): void {
    const edge = scene?.head ?? 0;
    head.lines[line].setAttribute('d', outlines(boxes.filter(({ y }) => y < edge)));
    body.lines[line].setAttribute('d', outlines(boxes.filter(({ y }) => y >= edge)));
  }

  function placeUnder(event: MouseEvent): Place | undefined {
    const over = event.target instanceof Element && head.box.contains(event.target) ? head : body;
    const { left, top } = over.box.getBoundingClientRect();
    return placeAt(places(), event.clientX - left, event.clientY - top + over.top);
  }

  /** What is chosen counts, wherever the pointer rests, until it is moved again. */
  function choose(cell: Cell | undefined, bring: boolean): void {
    [pointed, selected] = [undefined, cell];
    light();
    const place = here(cell);
    if (bring && place) scrollIntoSight(element, place, scene?.head ?? 0);
  }

  element.addEventListener('pointermove', (event) => {
    const cell = placeUnder(event)?.cell;
    if (cell === pointed || (cell && pointed && isSame(cell, pointed))) return;
    const start = performance.now();
    pointed = cell;
    light();
    measureFrame('cardcage:light', start);
    doings.point(cell);
  });
  element.addEventListener('pointerleave', () => {
    pointed = undefined;
    light();
    doings.point(undefined);
  });
  // A click on a cell leads into the text. Were the keyboard to come here first, the editor would hear of it up to a quarter of a
  // second later, and take the drawing for what one works at while the keyboard is in the text already.
  element.addEventListener('mousedown', (event) => {
    if (placeUnder(event)) event.preventDefault();
  });
  element.addEventListener('click', (event) => {
    const cell = placeUnder(event)?.cell;
    if (cell === undefined) return;
    choose(cell, false);
    doings.select(cell);
    doings.go(cell);
  });
  element.addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === 'Enter' && selected) doings.go(selected);
    const step = STEPS[event.key];
    if (step === undefined) return;
    event.preventDefault();
    const place = stepFrom(places(), here(selected), step);
    choose(place?.cell, true);
    if (place) doings.select(place.cell);
  });
  element.addEventListener('scroll', () => doings.scrolled(element.scrollLeft, element.scrollTop), {
    passive: true,
  });

  return {
    element,
    show(next) {
      const was = scene;
      scene = next;
      element.setAttribute('aria-label', `${next.name}. ${KEYS}`);
      if (was?.width !== next.width || was.height !== next.height || was.head !== next.head) resize(next);
      paint(head, next, ({ top }) => top < next.head);
      paint(body, next, ({ top }) => top >= next.head);
      light();
      mark();
    },
    clear() {
      scene = undefined;
      for (const { pieces } of [head, body]) for (const { element: one } of pieces.splice(0)) one.remove();
      [pointed, selected, cursor] = [undefined, undefined, []];
      light();
      mark();
    },
    select: (cell, bring = false) => choose(cell, bring),
    follow(cells) {
      cursor = cells;
      mark();
    },
    scrollTo: (left, top) => element.scrollTo(left, top),
  };

  function resize({ width, height, head: edge }: Scene): void {
    sheet.style.width = `${width}px`;
    for (const [part, top, bottom] of [
      [head, 0, edge],
      [body, edge, height],
    ] as const) {
      part.top = top;
      part.box.style.height = `${bottom - top}px`;
      part.svg.setAttribute('viewBox', `0 ${top} ${width} ${bottom - top}`);
      part.svg.setAttribute('width', String(width));
      part.svg.setAttribute('height', String(bottom - top));
    }
  }
}

const STEPS: Readonly<Record<string, Step>> = {
  ArrowLeft: 'left',
  ArrowRight: 'right',
  ArrowUp: 'up',
  ArrowDown: 'down',
  Home: 'first',
  End: 'last',
};

const KEYS =
  'Arrow keys move, Home and End lead to the ends of a row, Enter opens the statement, / filters a bus, S turns a connector round, N and P step through the cases of a what-if.';

function layer(name: string): Layer {
  const box = document.createElement('div');
  box.className = name;
  const svg = document.createElementNS(SVG, 'svg');
  svg.setAttribute('class', 'over');
  svg.setAttribute('aria-hidden', 'true');
  const line = (kind: string): Element => {
    const path = document.createElementNS(SVG, 'path');
    path.setAttribute('class', kind);
    return path;
  };
  const lines = { cursor: line('cursor'), lit: line('lit'), here: line('here') };
  svg.append(lines.cursor, lines.lit, lines.here);
  box.append(svg);
  return { box, svg, lines, pieces: [], top: 0 };
}

/** Paints the pieces of a layer: each is an element of exactly known height, which the browser skips while it is out of sight. */
function paint(
  { box, pieces, top }: Layer,
  { pieces: all, width }: Scene,
  isMine: (piece: DrawnPiece) => boolean,
): void {
  const mine = all.filter(isMine);
  for (const { element } of pieces.splice(mine.length)) element.remove();
  mine.forEach((piece, i) => {
    const kept = pieces[i] ?? { element: document.createElement('div'), drawn: '' };
    if (i === pieces.length) {
      kept.element.className = 'piece';
      pieces.push(kept);
      box.append(kept.element);
    }
    const height = (all[all.indexOf(piece) + 1]?.top ?? piece.top + piece.height) - piece.top;
    kept.element.style.height = `${height}px`;
    kept.element.style.top = `${piece.top - top}px`;
    const drawn = `<svg aria-hidden="true" width="${width}" height="${height}">${piece.svg}</svg>`;
    if (kept.drawn === drawn) return;
    kept.drawn = drawn;
    kept.element.innerHTML = drawn;
  });
}

const outlines = (boxes: readonly Box[]): string =>
  boxes
    .map(({ x, y, width, height }) => `M${x + 1} ${y + 0.5}h${width - 2}v${height - 1}h${2 - width}z`)
    .join('');

/** px kept free around what is brought into sight. */
const AROUND = 24;

function scrollIntoSight(element: HTMLElement, { x, y, width, height }: Box, head: number): void {
  const { scrollLeft, scrollTop, clientWidth, clientHeight } = element;
  const left = Math.max(Math.min(scrollLeft, x - AROUND), x + width + AROUND - clientWidth);
  if (y < head) {
    element.scrollTo(left, scrollTop);
    return;
  }
  const top = Math.max(Math.min(scrollTop, y - head - AROUND), y + height + AROUND - clientHeight);
  element.scrollTo(left, top);
}

/** Measures from a moment to the end of the frame that shows what was done since. The last measure of a name is kept. */
export function measureFrame(name: string, start: number): void {
  // A host on another computer has a clock of its own.
  if (start < 0) return;
  requestAnimationFrame(() => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      performance.clearMeasures(name);
      performance.measure(name, { start, end: performance.now() });
      port1.close();
    };
    port2.postMessage(undefined);
  });
}
