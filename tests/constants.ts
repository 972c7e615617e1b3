/** tan(15 deg): 2 - sqrt(3), exact. */
export const tan30deg = { half: 2 - Math.sqrt(3) } as const;
