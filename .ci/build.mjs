// Builds dist/, without a word unless something is wrong.
import { fileURLToPath } from 'node:url';
import { build } from 'rolldown';

// One CommonJS file: Node starts it sooner than modules, and what V8 compiles of it can be kept (.ci/keep-compiled.cjs).
const program = {
  input: { heldby: 'src/cli/main.ts' },
  platform: 'node',
  external: ['better-sqlite3'],
  resolve: {
    // The option reader can start other programs as sub-commands, which heldby has none of: Node's module for it takes
    // longer to load than everything else that a question needs.
    alias: { 'node:child_process': fileURLToPath(new URL('no-child-process.cjs', import.meta.url)) },
  },
  output: {
    dir: 'dist',
    format: 'cjs',
    entryFileNames: '[name].cjs',
    codeSplitting: false,
    comments: false,
    cleanDir: true,
  },
};

// Threads are programs of their own: the one that reads long lists, and those that work out the lots of a batch.
const { cleanDir: _, ...beside } = program.output;
const threads = [
  { ...program, input: { 'coding-worker': 'src/intake/coding-worker.ts' }, output: beside },
  { ...program, input: { 'lot-worker': 'src/cli/lot-worker.ts' }, output: beside },
];

for (const each of [program, ...threads]) await build(each);
