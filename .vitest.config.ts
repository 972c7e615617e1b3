import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    setupFiles: ['tests/setup.ts'],
    // How long anything takes on a busy machine is nothing that is tested.
    testTimeout: 300_000,
    hookTimeout: 300_000,
    pool: 'forks',
    maxWorkers: 2,
    reporters: ['default', './tests/closing.ts'],
    coverage: { include: ['src/**', 'rules/**'] },
  },
});
