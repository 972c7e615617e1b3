import type { Reporter, TestModule } from 'vitest/node';

/** Ends a test run with one plain line that any machine can read: how many tests passed and failed. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], errors: readonly unknown[]): void {
    let passed = 0;
    let failed = errors.length;
    let skipped = 0;
    for (const module of modules) {
      if (module.state() === 'failed' && module.children.size === 0) failed++;
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        if (state === 'passed') passed++;
        else if (state === 'failed') failed++;
        else skipped++;
      }
    }
    const tail = skipped > 0 ? `, ${skipped} skipped` : '';
    process.stdout.write(`\n${passed} passed, ${failed} failed${tail}\n`);
  }
}
