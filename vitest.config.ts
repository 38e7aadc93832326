import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    // Long enough for a machine that has other work to do; most take a fraction of a second.
    testTimeout: 120_000,
    hookTimeout: 120_000,
  },
});
