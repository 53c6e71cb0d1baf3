/**
 * How many times as long as alone this thread takes for its work, since others want the processor too: about 1 where nobody
 * does. Many short pieces of the same work are done; the shortest had the processor for itself. Sent as text to where time is
 * measured, so it uses nothing of this file.
 */
export function busyness(): number {
  const times: number[] = [];
  for (let piece = 0; piece < 120; piece++) {
    const start = performance.now();
    let sum = 0;
    for (let i = 0; i < 1_000_000; i++) sum += Math.sqrt(i + piece);
    if (sum > 0) times.push(performance.now() - start);
  }
  // The first pieces run before the code is compiled.
  const warm = times.slice(20);
  return warm.reduce((a, b) => a + b, 0) / warm.length / Math.min(...warm);
}
