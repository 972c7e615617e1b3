import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    setupFiles: ['tests/setup.ts'],
    testTimeout: 60_000,
    pool: 'forks',
    maxWorkers: 2,
    reporters: ['default', './tests/closing.ts'],
    coverage: { include: ['src/**', 'rules/**'] },
  },
});
