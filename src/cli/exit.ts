/** Exit statuses of every command; of several jobs the worst counts. */
export const EXIT = { good: 0, fail: 1, unknown: 2, unreadable: 3 } as const;

export const FORMATS = ['sheet', 'json', 'html', 'sarif', 'junit'] as const;
export type Format = (typeof FORMATS)[number];

export const BENCH_FORMATS = ['text', 'html', 'json'] as const;
