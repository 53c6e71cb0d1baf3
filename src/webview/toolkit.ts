/**
 * The controls of a page. This is the only file that knows which toolkit they come from: it is no longer cared for, and
 * whoever takes another changes what is below and nothing else.
 */
import {
  provideVSCodeDesignSystem,
  vsCodeButton,
  vsCodeDropdown,
  vsCodeOption,
  vsCodeTextField,
} from '@vscode/webview-ui-toolkit';

/** Has to run once, before the first control is made. */
export function provideControls(): void {
  provideVSCodeDesignSystem().register(vsCodeButton(), vsCodeDropdown(), vsCodeOption(), vsCodeTextField());
}

export interface Option<Value extends string = string> {
  readonly value: Value;
  readonly says: string;
}

/** A control with its label, to be put into the page. */
export interface Control {
  readonly element: HTMLElement;
  hide(hidden: boolean): void;
}

export interface Choice extends Control {
  /** Offers these, with one of them chosen. Tells nobody. */
  offer(options: readonly Option[], chosen: string): void;
}

interface Select extends HTMLElement {
  value: string;
}

/** A list of which one is chosen. */
export function choice(label: string, name: string, onChoice: (value: string) => void): Choice {
  const select = document.createElement('vscode-dropdown') as Select;
  select.setAttribute('aria-label', label);
  select.id = name;
  let [offered, wanted] = ['', ''];
  select.addEventListener('change', () => onChoice(select.value));
  // Once the list has learnt of other options it holds on to the place of what was chosen, not to that itself.
  select.shadowRoot?.addEventListener('slotchange', () => {
    if (select.value !== wanted) select.value = wanted;
  });
  const control = labelled(label, select);
  return {
    ...control,
    offer(options, chosen) {
      wanted = chosen;
      const now = JSON.stringify(options);
      if (now !== offered) {
        offered = now;
        select.replaceChildren(
          ...options.map(({ value, says }) => {
            const option = document.createElement('vscode-option') as Select;
            option.setAttribute('value', value);
            option.textContent = says;
            // Chosen from the start: the list learns of its options only later.
            if (value === chosen) option.setAttribute('selected', '');
            return option;
          }),
        );
      }
      if (select.value !== chosen) select.value = chosen;
    },
  };
}

export interface Field extends Control {
  set(text: string): void;
  focus(): void;
}

/** A line of text; tells at every key. */
export function field(label: string, name: string, hint: string, onText: (text: string) => void): Field {
  const input = document.createElement('vscode-text-field') as Select;
  input.setAttribute('placeholder', hint);
  input.setAttribute('aria-label', label);
  input.id = name;
  input.addEventListener('input', () => onText(input.value));
  return {
    ...labelled(label, input),
    set(text) {
      if (input.value !== text) input.value = text;
    },
    focus: () => input.focus(),
  };
}

export function button(
  says: string,
  name: string,
  onPress: () => void,
): Control & { say(text: string): void; explain(text: string): void } {
  const element = document.createElement('vscode-button');
  element.setAttribute('appearance', 'secondary');
  element.id = name;
  element.textContent = says;
  element.addEventListener('click', onPress);
  return {
    element,
    hide: (hidden) => element.toggleAttribute('hidden', hidden),
    say(text) {
      if (element.textContent !== text) element.textContent = text;
    },
    explain: (text) => element.setAttribute('title', text),
  };
}

/** What a control is for stands before it; the control itself carries it as its name. */
function labelled(label: string, control: HTMLElement): Control {
  const element = document.createElement('div');
  const text = document.createElement('span');
  element.className = 'control';
  text.textContent = label;
  text.setAttribute('aria-hidden', 'true');
  element.append(text, control);
  return { element, hide: (hidden) => element.toggleAttribute('hidden', hidden) };
}
