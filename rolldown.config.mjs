import { defineConfig } from 'rolldown';

// One CommonJS file: Node starts it sooner than modules, and what V8 compiles of it can be kept (.ci/keep-compiled.cjs).
export default defineConfig({
  input: { heldby: 'src/cli/main.ts' },
  platform: 'node',
  external: ['better-sqlite3'],
  output: {
    dir: 'dist',
    format: 'cjs',
    entryFileNames: '[name].cjs',
    codeSplitting: false,
    minify: { mangle: false, compress: false, codegen: true },
    cleanDir: true,
  },
});
