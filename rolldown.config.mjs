import { defineConfig } from 'rolldown';

// One launcher, one lazily loaded chunk a command: a command reads only the code that it runs.
export default defineConfig({
  input: { cli: 'src/cli/main.ts' },
  platform: 'node',
  external: ['better-sqlite3'],
  output: {
    dir: 'dist',
    format: 'esm',
    entryFileNames: '[name].js',
    chunkFileNames: 'chunk-[name]-[hash].js',
    cleanDir: true,
  },
});
