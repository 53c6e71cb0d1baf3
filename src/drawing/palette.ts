/** The colours of a drawing by what they mean. In a file plain colours, in a page those of its theme. */
export interface Colours {
  readonly ink: string;
  readonly quiet: string;
  readonly ground: string;
  /** Thin lines that only part. */
  readonly rule: string;
  readonly band: string;
  readonly copper: string;
  readonly power: string;
  readonly active: string;
  readonly open: string;
  readonly error: string;
  readonly warning: string;
  readonly question: string;
  readonly note: string;
}

/** How a drawing looks in these colours, as CSS. Each class that means something has a shape or a stroke of its own. */
export const palette = (of: Colours): string => `
text { font: 11px Arial, Helvetica, sans-serif; fill: ${of.ink} }
.mono, .value, .amount { font-family: "DejaVu Sans Mono", Menlo, Consolas, monospace; font-size: 10px }
.value { font-size: 9px; stroke: ${of.ground}; stroke-width: 4px; paint-order: stroke }
.amount { font-size: 8.5px }
.end .pen { fill: ${of.ground} }
.strong { font-weight: bold }
.quiet { fill: ${of.quiet} }
.ground { fill: ${of.ground} }
.rule { stroke: ${of.rule}; fill: none; stroke-width: 1 }
.band { fill: ${of.band} }
.copper { stroke: ${of.copper}; fill: none; stroke-width: 1.2 }
.copper.power { stroke: ${of.power}; stroke-width: 2 }
.copper.chains { stroke: ${of.active} }
.pen { fill: none; stroke: ${of.ink}; stroke-width: 1.4; stroke-linejoin: round; stroke-linecap: round }
.full { fill: ${of.ink}; stroke: ${of.ink}; stroke-width: 1; stroke-linejoin: round }
.takes .full, .makes .full { fill: ${of.power}; stroke: ${of.power} }
.mark.ground .pen { stroke: ${of.ink} }
.drives .full, .both .full, .starts .full { fill: ${of.active}; stroke: ${of.active} }
.stops .pen { stroke: ${of.error}; stroke-width: 2 }
.unknown .pen { stroke: ${of.open} }
.guess .pen, .frame { stroke-dasharray: 2 1.6 }
.frame { fill: none; stroke: ${of.ink}; stroke-width: 1 }
.ring { fill: none; stroke-width: 1.6 }
.ring.error { stroke: ${of.error} }
.ring.warning { stroke: ${of.warning}; stroke-dasharray: 5 2 }
.ring.question { stroke: ${of.question}; stroke-dasharray: 1.5 2 }
.ring.note { stroke: ${of.note}; stroke-dasharray: 1 3 }
.small { font-size: 9px }
.contact .pen { stroke-width: 1.1 }
.contact.there .pen { fill: ${of.band} }
.contact.guess .pen, .contact.unsaid .pen, .contact.pulled .pen { fill: ${of.ground} }
.contact.unsaid .pen { stroke-dasharray: 1 2 }
.contact.plugged text { fill: ${of.ground} }
.contact.rail .pen { stroke: ${of.power}; stroke-width: 1.6 }
.leader { stroke: ${of.rule}; fill: none; stroke-width: 0.7 }
.shell { stroke: ${of.copper}; fill: none; stroke-width: 1.2 }
.shell.shroud { stroke-width: 2.4 }
.shell.unsaid { stroke-dasharray: 4 3 }
.key { fill: ${of.ink} }
.hazard { stroke: ${of.error}; fill: none; stroke-width: 1.8; stroke-linejoin: round }
.halo { stroke: ${of.ground}; fill: none; stroke-width: 4; stroke-linejoin: round }
.fine .pen, .fine .contact.rail .pen { stroke-width: 0.5 }
.fine .shell { stroke-width: 0.6 }
.fine .hazard { stroke-width: 0.9 }
.fine .halo { stroke: none }
.cell { fill: ${of.ground}; stroke: ${of.rule}; stroke-width: 1 }
.cell.loose { stroke: ${of.ink}; stroke-dasharray: 3 3 }
.conductor { stroke: ${of.copper}; fill: none; stroke-width: 1.1 }
.conductor.striped { stroke: ${of.ink}; stroke-width: 2.6 }
.conductor.wrong { stroke: ${of.error}; stroke-width: 1.8; stroke-dasharray: 7 2 }
.conductor.idle { stroke: ${of.rule}; stroke-dasharray: 2 3 }
.wrong .pen { stroke: ${of.error}; stroke-width: 1.8 }
.wrong .full { fill: ${of.error}; stroke: ${of.error} }
.struck { text-decoration: line-through; text-decoration-thickness: 1.6px }
.meet { stroke: ${of.copper}; fill: none; stroke-width: 1.1 }
.meet.destroys { stroke: ${of.error}; stroke-width: 3.4 }
.meet.shorts { stroke: ${of.error}; stroke-width: 2.4; stroke-dasharray: 9 3 }
.meet.strains { stroke: ${of.warning}; stroke-width: 1.8; stroke-dasharray: 5 3 }
.meet.unjudged { stroke: ${of.question}; stroke-width: 1.8; stroke-dasharray: 1.5 2.5 }
.harm.unjudged .pen { stroke: ${of.question} }
.harm.unjudged text { fill: ${of.question}; font-weight: bold }
.meet.never { stroke: ${of.copper}; stroke-width: 1.1; stroke-dasharray: 1 4 }
.harm .full { fill: ${of.error}; stroke: ${of.error} }
.harm .pen { fill: ${of.ground} }
.harm.destroys text, .harm.shorts text { fill: ${of.ground}; font-weight: bold }
.stands .pen { stroke-width: 2.2 }
text.wrong { fill: ${of.error}; font-weight: bold }
`;

/** Dark on white, apart in grey as well. */
export const PRINT = palette({
  ink: '#111',
  quiet: '#555',
  ground: '#fff',
  rule: '#aaa',
  band: '#f3f3f3',
  copper: '#555',
  power: '#8a1c1c',
  active: '#14507a',
  open: '#7a4b00',
  error: '#b00020',
  warning: '#9a6700',
  question: '#14507a',
  note: '#777',
});
