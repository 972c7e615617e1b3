/** Work that ends sooner than this needs no word in between. */
const LONG_MS = 1000;

export interface Progress {
  readonly done: (count: number) => void;
  readonly end: () => void;
}

/**
 * Tells on standard error how far several jobs have come, on one line that is wiped at the end: only to a
 * terminal, and only when the work is long.
 */
export function progressOf(total: number, to: NodeJS.WriteStream = process.stderr): Progress {
  if (to.isTTY !== true || total < 2) return { done: () => {}, end: () => {} };
  let count = 0;
  let shown = false;
  const show = (): void => {
    shown = true;
    to.write(`\r${count} of ${total} jobs checked`);
  };
  const timer = setTimeout(show, LONG_MS);
  return {
    done: (now) => {
      count = now;
      if (shown) show();
    },
    end: () => {
      clearTimeout(timer);
      if (shown) to.write(`\r${' '.repeat(`${total} of ${total} jobs checked`.length)}\r`);
    },
  };
}
