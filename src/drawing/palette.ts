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
`;
