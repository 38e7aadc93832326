import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    // One for each core: by itself the runner leaves one idle, which of two is half of all.
    maxWorkers: '100%',
    // Long enough for a machine that has other work to do; most take a fraction of a second.
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
