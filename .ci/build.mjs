// Builds dist/, without a word unless something is wrong.
import { fileURLToPath } from 'node:url';
import { build } from 'rolldown';

// What tells the version, what questions need, and what they do not, apart: to read the rest and make it ready takes
// longer than many an answer.
const START = { name: 'start', test: /src\/(version|errors|cli\/(main|write-out))\.ts$/, priority: 1 };
const CORE = { name: 'core', test: /src\/(cli\/(run|program|commands\/(candidates|tenures|when))|ledger\/open)\.ts$/ };
// CommonJS: Node starts it sooner than modules, and what V8 compiles of it can be kept (.ci/keep-compiled.cjs).
const program = {
  input: { heldby: 'src/cli/main.ts' },
  platform: 'node',
  checks: { ineffectiveDynamicImport: false }, // a module that is loaded late here and at once there is in one file
  external: [/\.node$/],
  resolve: {
    // The option reader can start other programs as sub-commands, which heldby has none of: Node's module for it takes
    // longer to load than everything else that a question needs.
    alias: {
      'node:child_process': fileURLToPath(new URL('no-child-process.cjs', import.meta.url)),
      bindings: fileURLToPath(new URL('native-addon.cjs', import.meta.url)),
    },
  },
  output: {
    dir: 'dist',
    format: 'cjs',
    entryFileNames: '[name].cjs',
    chunkFileNames: '[name].cjs',
    codeSplitting: { groups: [START, CORE, { name: 'rest', test: /./ }] },
    comments: false,
    cleanDir: true,
  },
};

// Programs of their own, each in one file: what completes lines for a shell, the thread that reads long lists, and those
// that work out the lots of a batch.
const { cleanDir: _, ...output } = program.output;
const beside = { ...output, codeSplitting: false };
const others = [
  { ...program, input: { complete: 'src/cli/complete.ts' }, output: beside },
  { ...program, input: { 'coding-worker': 'src/intake/coding-worker.ts' }, output: beside },
  { ...program, input: { 'lot-worker': 'src/cli/lot-worker.ts' }, output: beside },
];

for (const each of [program, ...others]) await build(each);
