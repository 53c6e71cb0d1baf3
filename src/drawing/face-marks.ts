import type { ConnectorPicture, FaceContact } from './connector-picture.ts';
import type { FaceLayout, FaceLook } from './face-layout.ts';
import { written } from './lettering.ts';
import type { Drawn } from './picture.ts';
import { element, escaped, widthOf } from './svg.ts';
import type { Told } from './told.ts';

/** How a contact looks: a guess is open with a broken pen, a missing pin crossed out, a blocked hole full. */
export function contactClass({ state, evidence, kind }: Drawn<Told>): string {
  const known = kind === undefined || kind === 'unknown' ? 'unsaid' : evidence === 'guess' ? 'guess' : 'said';
  return `contact ${state} ${known}${kind === 'rail' ? ' rail' : ''}`;
}

/** A contact's box around its middle, with its number in it. */
export function contactMark(
  contact: Drawn<Told>,
  x: number,
  y: number,
  { width, height }: FaceLayout['box'],
  labelSize: number,
): string {
  const [w, h] = [width / 2, height / 2];
  const frame = `M${-w} ${-h}H${w}V${h}H${-w}Z`;
  const cut = Math.min(w, h) * 0.7;
  const corners = [
    [-w, -h],
    [w, -h],
    [w, h],
    [-w, h],
  ].map(([a, b]) => `M${a} ${b}l${a! < 0 ? cut : -cut} ${b! < 0 ? cut : -cut}`);
  const d = contact.state === 'pulled' ? corners.join('') : frame;
  return element(
    'g',
    { class: contactClass(contact) },
    element('title', {}, escaped(`${contact.label} ${contact.name}, ${contact.known}`)),
    element('path', {
      class: contact.state === 'plugged' ? 'full' : 'pen',
      transform: `translate(${rounded(x)} ${rounded(y)})`,
      d: d.replace(/-?\d+\.\d+/g, (one) => String(rounded(Number(one)))),
    }),
    written(contact.label, x, y + labelSize * 0.36, {
      class: 'label',
      size: labelSize,
      anchor: 'middle',
      room: Math.max(width, widthOf('00', labelSize)),
    }),
  );
}

const rounded = (value: number): number => Math.round(value * 100) / 100;

/** A zigzag between two neighbours. */
export function hazardMark(
  a: { readonly x: number; readonly y: number },
  b: { readonly x: number; readonly y: number },
  size: number,
  says: string,
): string {
  const [x, y] = [(a.x + b.x) / 2, (a.y + b.y) / 2];
  const [s, t] = [rounded(size / 4), rounded(size / 2)];
  const beside = Math.abs(a.y - b.y) < 0.01;
  const d = beside
    ? `M${-s} ${-t}L${s} ${rounded(-t / 3)}L${-s} ${rounded(t / 3)}L${s} ${t}`
    : `M${-t} ${-s}L${rounded(-t / 3)} ${s}L${rounded(t / 3)} ${-s}L${t} ${s}`;
  const transform = `translate(${rounded(x)} ${rounded(y)})`;
  return element(
    'g',
    { class: 'danger', transform },
    element('title', {}, escaped(says)),
    element('path', { class: 'halo', d }),
    element('path', { class: 'hazard', d }),
  );
}

/** A bar through the face between two contacts of a row; through all rows of an edge, where it is one slot in the tongue. */
export function keyMark(
  picture: Drawn<ConnectorPicture>,
  [a, b]: readonly [number, number],
  { at, last, pitch }: FaceLayout,
): string {
  const [one, two] = [at[a]!, at[b]!];
  const x = (one.x + two.x) / 2;
  const [top, bottom] =
    picture.shape === 'edge'
      ? [-pitch * 0.62, last + pitch * 0.62]
      : [one.y - pitch * 0.42, one.y + pitch * 0.42];
  const { label: from } = picture.contacts[a] as Drawn<FaceContact>;
  const { label: to } = picture.contacts[b] as Drawn<FaceContact>;
  const width = pitch * 0.12;
  return element(
    'rect',
    { class: 'key', x: x - width / 2, y: top, width, height: bottom - top },
    element('title', {}, escaped(`key between ${from} and ${to}`)),
  );
}

/** The outline of the connector's body, with its shroud, notch, bump and ends. Notch and bump sit beside the first row. */
export function bodyMark(picture: Drawn<ConnectorPicture>, layout: FaceLayout, { side }: FaceLook): string {
  const { shape, shroud, bump, ends, contacts } = picture;
  const { pitch, last, left, right } = layout;
  const reach = pitch * 0.72;
  const [x0, x1, y0, y1] = [left - reach, right + reach, -reach, last + reach].map(rounded) as [
    number,
    number,
    number,
    number,
  ];
  const middle = rounded((x0 + x1) / 2);
  const first = (contacts[0]?.y ?? 0) === 0 ? y0 : y1;
  const outward = first === y0 ? -1 : 1;
  const parts: string[] = [];
  if (shape === 'dshell') {
    // The wider row is the first.
    const slant = rounded(pitch * 0.35);
    const d =
      first === y0
        ? `M${x0 - slant} ${y0}H${x1 + slant}L${x1} ${y1}H${x0}Z`
        : `M${x0} ${y0}H${x1}L${x1 + slant} ${y1}H${x0 - slant}Z`;
    parts.push(element('path', { class: 'shell', d }));
  } else if (shape === 'edge') {
    parts.push(element('path', { class: 'shell', d: `M${x0} ${y0}H${x1}M${x0} ${y1}H${x1}` }));
    if (ends !== 'open') {
      const unsaid = ends === undefined ? ' unsaid' : '';
      parts.push(element('path', { class: `shell${unsaid}`, d: `M${x0} ${y0}V${y1}M${x1} ${y0}V${y1}` }));
    }
  } else {
    const notch = shroud === 'notch' ? rounded(pitch * 0.6) : 0;
    const gap = (y: number): string =>
      y === first && notch > 0
        ? `M${x0} ${y}H${middle - notch}V${y - outward * rounded(pitch * 0.18)}M${middle + notch} ${y - outward * rounded(pitch * 0.18)}V${y}H${x1}`
        : `M${x0} ${y}H${x1}`;
    const d = `${gap(y0)}${gap(y1)}M${x0} ${y0}V${y1}M${x1} ${y0}V${y1}`;
    parts.push(element('path', { class: shroud ? 'shell shroud' : 'shell', d }));
  }
  if (shape === 'dip') {
    // The half-moon is at the end of the first contact.
    const [x, sweep] = side === 'wiring' ? [x1, 0] : [x0, 1];
    const r = rounded(pitch * 0.3);
    parts.push(
      element('path', {
        class: 'shell',
        d: `M${x} ${rounded((y0 + y1) / 2 - r)}A${r} ${r} 0 0 ${sweep} ${x} ${rounded((y0 + y1) / 2 + r)}`,
      }),
    );
  }
  if (bump) {
    const w = rounded(pitch * 0.5);
    parts.push(
      element('rect', {
        class: 'key',
        x: middle - w,
        y: outward < 0 ? first : first - w / 2,
        width: w * 2,
        height: w / 2,
      }),
    );
  }
  return parts.join('');
}
