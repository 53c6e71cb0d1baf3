/**
 * The colours of a drawing in a file: dark on white, apart in grey as well. The editor gives these classes its theme's
 * colours instead.
 */
export const PRINT = `
text { font: 11px Arial, Helvetica, sans-serif; fill: #111 }
.mono { font-family: "DejaVu Sans Mono", Menlo, Consolas, monospace; font-size: 10px }
.strong { font-weight: bold }
.quiet { fill: #555 }
.ground { fill: #fff }
.rule { stroke: #bbb; fill: none; stroke-width: 1 }
.band { fill: #f3f3f3 }
.copper { stroke: #555; fill: none; stroke-width: 1.2 }
.copper.power { stroke: #8a1c1c; stroke-width: 2 }
.copper.chains { stroke: #14507a }
.pen { fill: none; stroke: #111; stroke-width: 1.4; stroke-linejoin: round; stroke-linecap: round }
.full { fill: #111; stroke: #111; stroke-width: 1; stroke-linejoin: round }
.takes .full, .makes .full { fill: #8a1c1c; stroke: #8a1c1c }
.mark.ground .pen { stroke: #111 }
.drives .full, .both .full, .starts .full { fill: #14507a; stroke: #14507a }
.stops .pen { stroke: #b00020; stroke-width: 2 }
.unknown .pen { stroke: #7a4b00 }
.guess .pen { stroke-dasharray: 2 1.6 }
.ring { fill: none; stroke-width: 1.6 }
.ring.error { stroke: #b00020 }
.ring.warning { stroke: #9a6700; stroke-dasharray: 5 2 }
.ring.question { stroke: #14507a; stroke-dasharray: 1.5 2 }
.ring.note { stroke: #777; stroke-dasharray: 1 3 }
.small { font-size: 9px }
.contact .pen { stroke-width: 1.1 }
.contact.there .pen { fill: #f3f3f3 }
.contact.guess .pen, .contact.unsaid .pen, .contact.pulled .pen { fill: #fff }
.contact.unsaid .pen { stroke-dasharray: 1 2 }
.contact.plugged text { fill: #fff }
.contact.rail .pen { stroke: #8a1c1c; stroke-width: 1.6 }
.leader { stroke: #999; fill: none; stroke-width: 0.7 }
.shell { stroke: #555; fill: none; stroke-width: 1.2 }
.shell.shroud { stroke-width: 2.4 }
.shell.unsaid { stroke-dasharray: 4 3 }
.key { fill: #111 }
.hazard { stroke: #b00020; fill: none; stroke-width: 1.8; stroke-linejoin: round }
.halo { stroke: #fff; fill: none; stroke-width: 4; stroke-linejoin: round }
.fine .pen, .fine .contact.rail .pen { stroke-width: 0.5 }
.fine .shell { stroke-width: 0.6 }
.fine .hazard { stroke-width: 0.9 }
.fine .halo { stroke: none }
.cell { fill: #fff; stroke: #bbb; stroke-width: 1 }
.cell.loose { stroke: #111; stroke-dasharray: 3 3 }
.conductor { stroke: #555; fill: none; stroke-width: 1.1 }
.conductor.striped { stroke: #111; stroke-width: 2.6 }
.conductor.wrong { stroke: #b00020; stroke-width: 1.8; stroke-dasharray: 7 2 }
.conductor.idle { stroke: #aaa; stroke-dasharray: 2 3 }
.wrong .pen { stroke: #b00020; stroke-width: 1.8 }
.wrong .full { fill: #b00020; stroke: #b00020 }
text.wrong { fill: #b00020; font-weight: bold }
`;
