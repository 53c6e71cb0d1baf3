// Says how far a download is: on a terminal one line that is written again, elsewhere a line now and then.

const MEGABYTE = 1_000_000;

/**
 * @param what said once
 * @param total bytes expected
 * @param measure bytes so far, as a promise
 * @returns `end()`, to be called when it is over, well or not
 */
export function progress(what, total, measure) {
  const screen = process.stderr.isTTY === true;
  const size = `${megabytes(total)} MB`;
  const start = performance.now();
  process.stderr.write(`${what} (${size})\n`);

  const show = async () => {
    const so = `${megabytes(Math.min(await measure(), total)).padStart(size.length - 3)} of ${size}`;
    process.stderr.write(screen ? `\r  ${so}` : `  ${so}\n`);
  };
  const timer = setInterval(show, screen ? 500 : 10_000);
  return {
    end() {
      clearInterval(timer);
      const seconds = ((performance.now() - start) / 1000).toFixed(0);
      process.stderr.write(`${screen ? '\r' : ''}  ${seconds} s${' '.repeat(size.length * 2)}\n`);
    },
  };
}

function megabytes(bytes) {
  return (bytes / MEGABYTE).toFixed(0);
}
