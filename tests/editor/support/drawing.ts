// Hands and eyes for the page of a drawing: `const page = drawingPage(editor)`, then `await page.pointAt('A2', '4')`.
import type { ElementHandle, Frame, Locator } from 'playwright-core';
import type { Editor } from './editor.ts';
import { spaced } from './hands.ts';
import { until } from './waiting.ts';

/** What is marked on a drawing: the net that lights, the cell that it lights from, what the editor's cursor is on. */
export type Mark = 'lit' | 'here' | 'cursor';

/** A rectangle in px of the drawing. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export type DrawingPage = ReturnType<typeof drawingPage>;

/** Each step finds the page anew: it is another one after its tab was hidden. */
export function drawingPage(editor: () => Editor) {
  /** The page of the drawing that is in sight, once it shows something. */
  function frame(): Promise<Frame> {
    return until('the page of a drawing', async () => {
      for (const one of editor().page.frames()) {
        if (!one.url().includes('/pre/fake.html')) continue;
        const ready = await one
          .locator('.stage .piece, body.empty')
          .first()
          .isVisible()
          .catch(() => false);
        if (ready) return one;
      }
      return undefined;
    });
  }

  const within = async (selector: string): Promise<Locator> => (await frame()).locator(selector);

  /** Opens the drawing of what stands at the cursor, by the palette. */
  async function open(): Promise<void> {
    await editor().command('Cardcage: Open drawing beside');
    await frame();
  }

  // ---- hands ----

  /**
   * Chooses in a list by the mouse: `choose('Marks', 'Current')`. A text that is only just being opened takes the keyboard, which
   * closes the list, so it may take two goes. Another drawing is waited for until it is there.
   */
  async function choose(label: string, says: string): Promise<void> {
    await until(`${label} to say ${says}`, async () => {
      const list = await within(`vscode-dropdown[aria-label="${label}"]`);
      const option = list.locator('vscode-option').getByText(says, { exact: true });
      await option.waitFor({ state: 'attached', timeout: 5000 });
      if (!(await option.isVisible())) await list.click({ timeout: 3000 });
      await option.click({ timeout: 3000 });
      return (await chosen(label)) === says;
    });
    await until('the drawing that is chosen', isChosenShown);
  }

  /** Whether what is chosen is what the page shows. */
  async function isChosenShown(): Promise<boolean> {
    const heading = await (await within('h1')).textContent();
    const of = await chosen('Of');
    return heading === `Drawing of ${of}` || heading === `What if: ${of}`;
  }

  /** What a list says. */
  async function chosen(label: string): Promise<string> {
    const list = await within(`vscode-dropdown[aria-label="${label}"]`);
    return list.evaluate((one: HTMLElement & { value: string }) => {
      const options = [...one.querySelectorAll('vscode-option')] as (HTMLElement & { value: string })[];
      return options.find(({ value }) => value === one.value)?.textContent ?? '';
    });
  }

  /** What a list offers. */
  async function offered(label: string): Promise<string[]> {
    return (await within(`vscode-dropdown[aria-label="${label}"] vscode-option`)).allTextContents();
  }

  /** Writes into the filter, in place of what stands there. */
  async function filter(text: string): Promise<void> {
    await (await within('#filter')).locator('input').fill(text);
  }

  /** Presses a button by what it says. */
  async function press(says: string): Promise<void> {
    await (await within('vscode-button')).getByText(says, { exact: true }).click();
  }

  /** Puts the mouse on a line of a bus: in a slot, or else on its name. */
  async function pointAt(line: string, slot?: string): Promise<void> {
    const { x, y } = await pointOf(line, slot);
    await editor().page.mouse.move(x, y, { steps: 3 });
  }

  /** Clicks there. */
  async function clickAt(line: string, slot?: string): Promise<void> {
    await pointAt(line, slot);
    await clickHere();
  }

  /** Puts the mouse on a word of a drawing; `nth` counts from 0. */
  async function pointAtText(text: string, nth = 0): Promise<void> {
    const word = (await within('.piece text')).getByText(text, { exact: true }).nth(nth);
    const { x, y, width, height } = await until(`the word ${text}`, async () => {
      await word.scrollIntoViewIfNeeded();
      return (await word.boundingBox()) ?? undefined;
    });
    await editor().page.mouse.move(x + width / 2, y + height / 2, { steps: 3 });
  }

  /** Clicks where the mouse is. */
  async function clickHere(): Promise<void> {
    await editor().page.mouse.down();
    await editor().page.mouse.up();
  }

  /** Takes the mouse off the drawing. */
  async function pointAway(): Promise<void> {
    const { x, y } = (await (await within('header')).boundingBox())!;
    await editor().page.mouse.move(x + 2, y + 2);
  }

  /** Where in the window a line meets a slot, or where its name stands. Brings it into sight. */
  function pointOf(line: string, slot: string | undefined): Promise<{ x: number; y: number }> {
    return until(`the place of ${line}${slot === undefined ? '' : ` in slot ${slot}`}`, async () => {
      const row = await handle('g.line', line);
      await row?.evaluate((one) => {
        const stage = one.closest('.stage')!;
        const [its, own] = [one.getBoundingClientRect(), stage.getBoundingClientRect()];
        const { bottom } = stage.querySelector('.head')!.getBoundingClientRect();
        if (its.top < bottom || its.bottom > own.bottom - 20)
          stage.scrollTop += its.top - (bottom + own.bottom) / 2;
      });
      const name = await (await row?.$('text'))?.boundingBox();
      // What is painted anew at this moment is nowhere.
      if (!name) return undefined;
      const y = name.y + name.height / 2;
      if (slot === undefined) return { x: name.x + name.width / 2, y };
      const over = await handle('.head text.mono', slot);
      await over?.evaluate((one) => {
        const stage = one.closest('.stage')!;
        const [its, own] = [one.getBoundingClientRect(), stage.getBoundingClientRect()];
        if (its.left < own.left || its.right > own.right)
          stage.scrollLeft += its.left - (own.left + own.right) / 2;
      });
      const label = await over?.boundingBox();
      return label ? { x: label.x + label.width / 2, y } : undefined;
    });
  }

  /** An element that is a text, or whose first text it is. */
  async function handle(selector: string, text: string): Promise<ElementHandle<Element> | undefined> {
    const found = await (await frame()).evaluateHandle(
      ({ selector, text }) =>
        [...document.querySelectorAll(selector)].find((one) => {
          const own = one instanceof SVGTextElement ? one : one.querySelector('text');
          return own?.firstChild?.textContent === text;
        }),
      { selector, text },
    );
    return (found.asElement() as ElementHandle<Element> | null) ?? undefined;
  }

  // ---- eyes ----

  /** The names of the lines that are drawn, from the top down. */
  async function lines(): Promise<string[]> {
    return (await within('g.line')).evaluateAll((rows) =>
      rows.map((row) => row.querySelector('text')?.firstChild?.textContent ?? ''),
    );
  }

  /** All texts of the drawing. */
  async function texts(): Promise<string[]> {
    return (await within('.piece text')).evaluateAll((all) =>
      all.map((one) => one.firstChild?.textContent ?? ''),
    );
  }

  /** The boxes of a mark. */
  async function boxes(mark: Mark): Promise<Box[]> {
    const paths = await (await within(`svg.over path.${mark}`)).evaluateAll((all) =>
      all.map((path) => path.getAttribute('d') ?? ''),
    );
    return paths.flatMap((d) =>
      [...d.matchAll(/M([-\d.]+) ([-\d.]+)h([-\d.]+)v([-\d.]+)/g)].map((match) => {
        const [x, y, width, height] = match.slice(1).map(Number) as [number, number, number, number];
        return { x: x - 1, y: y - 0.5, width: width + 2, height: height + 1 };
      }),
    );
  }

  /**
   * What a mark is on in a bus, as one reads it: `A2` for a line's name, `A2 4` for its crossing with slot 4, `A2 end` for a
   * resistor or a feed, `A2 elsewhere` for what lies behind the slots, `slot 4` for a slot's name.
   */
  async function marked(mark: Mark): Promise<string[]> {
    const all = await boxes(mark);
    return (await frame()).evaluate((all) => {
      const sheet = document.querySelector('.sheet')!.getBoundingClientRect();
      const head = document.querySelector('.head')!.getBoundingClientRect();
      const body = document.querySelector('.body')!.getBoundingClientRect();
      const middle = (one: Element, top: number) => {
        const { left, width, top: y, height } = one.getBoundingClientRect();
        return { x: left - sheet.left + width / 2, y: y - top + height / 2 };
      };
      const word = (one: Element) => one.firstChild?.textContent ?? '';
      const slots = [...document.querySelectorAll('.head text.mono')].map((one) => ({
        name: word(one),
        ...middle(one, head.top),
      }));
      const rows = [...document.querySelectorAll('g.line')].map((row) => {
        const texts = [...row.querySelectorAll('text')];
        // The body's own coordinates begin where the head ends.
        const { y } = middle(texts[0]!, body.top - head.height);
        return { name: word(texts[0]!), y, beyond: middle(texts.at(-1)!, 0).x };
      });
      const first = Math.min(...slots.map(({ x }) => x)) - 60;
      return all.map((box) => {
        const slot = slots.find(({ x }) => x > box.x && x < box.x + box.width);
        if (box.y < head.height && slot) return `slot ${slot.name}`;
        const row = rows.find(({ y }) => y > box.y && y < box.y + box.height);
        if (row === undefined) return `nothing at ${box.x} ${box.y}`;
        if (box.x < 20 && box.x < first) return row.name;
        if (slot && box.width < 40) return `${row.name} ${slot.name}`;
        return row.beyond > box.x && row.beyond < box.x + box.width
          ? `${row.name} elsewhere`
          : `${row.name} end`;
      });
    }, all);
  }

  /** What is told beside the drawing. */
  async function told(): Promise<string> {
    return spaced((await (await within('aside')).textContent()) ?? '');
  }

  /** Waits until something is told that has this part, and returns all of it. */
  function tells(part: string): Promise<string> {
    return until(`"${part}" to be told`, async () => {
      const text = await told();
      return text.includes(part) && text;
    });
  }

  /** How far the drawing is scrolled, in px. */
  async function scrolled(): Promise<{ left: number; top: number }> {
    return (await within('.stage')).evaluate(({ scrollLeft, scrollTop }) => ({
      left: scrollLeft,
      top: scrollTop,
    }));
  }

  /** The label of the element that has the keyboard, or its id, or its tag. */
  async function focused(): Promise<string> {
    return (await frame()).evaluate(() => {
      const one = document.activeElement;
      if (!document.hasFocus() || one === null) return '';
      return one.classList.contains('stage') ? 'stage' : one.id || one.tagName.toLowerCase();
    });
  }

  /** The pieces of the drawing from the top down, as XML, and how far down each begins: what the page paints. */
  async function pieces(): Promise<{ top: number; svg: string }[]> {
    return (await within('.piece')).evaluateAll((all) => {
      const head = document.querySelector<HTMLElement>('.head')!.offsetHeight;
      return all
        .map((one) => {
          const within = Number.parseFloat((one as HTMLElement).style.top);
          const top = one.parentElement!.className === 'body' ? within + head : within;
          return { top, svg: new XMLSerializer().serializeToString(one.firstElementChild!) };
        })
        .sort((a, b) => a.top - b.top);
    });
  }

  /** Waits until a click or a key in the page has led to such a statement, and the keyboard has come along into the text. */
  async function leadsTo(wanted: RegExp): Promise<void> {
    let reached = '';
    await until('the statement', async () => {
      reached = await statement();
      return wanted.test(reached);
    }).catch(() => {
      throw new Error(`the page was to lead to ${wanted}, but the cursor is on "${reached}"`);
    });
    await editor().page.locator('.editor-group-container.active .monaco-editor.focused').first().waitFor();
  }

  /** The statement that the editor's cursor is on: `bus.pinout: 4..11 = D0..D7 by trace`. */
  async function statement(): Promise<string> {
    return editor().host((vscode) => {
      const active = vscode.window.activeTextEditor;
      if (active === undefined) return '';
      const { document, selection } = active;
      const line = document.lineAt(selection.active.line).text.trim().replace(/\s+/g, ' ');
      return `${document.uri.path.split('/').at(-1)}: ${line}`;
    });
  }

  return {
    frame,
    open,
    choose,
    chosen,
    isChosenShown,
    offered,
    filter,
    press,
    pointAt,
    clickAt,
    pointAtText,
    clickHere,
    pointAway,
    lines,
    texts,
    boxes,
    marked,
    lit: () => marked('lit'),
    told,
    tells,
    scrolled,
    focused,
    pieces,
    leadsTo,
  };
}
