/** Exit statuses of every command; of several jobs the worst counts. */
export const EXIT = { good: 0, fail: 1, unknown: 2, unreadable: 3 } as const;

export const FORMATS = ['sheet', 'json', 'html', 'sarif', 'junit'] as const;
export type Format = (typeof FORMATS)[number];

export const BENCH_FORMATS = ['text', 'html', 'json'] as const;

/** What a file's name says is in it. */
const ENDINGS: Readonly<Record<string, string>> = {
  html: 'html',
  htm: 'html',
  json: 'json',
  sarif: 'sarif',
  xml: 'junit',
};

/** The format that was asked for; unless one was, what the output's ending says, or else the first of those there are. */
export function formatFor<F extends string>(
  formats: readonly [F, ...F[]],
  given: F | undefined,
  output: string | undefined,
): F {
  const ending = /\.([a-z]+)$/i.exec(output ?? '')?.[1]?.toLowerCase() ?? '';
  return given ?? formats.find((format) => format === ENDINGS[ending]) ?? formats[0];
}
