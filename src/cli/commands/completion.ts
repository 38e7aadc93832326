import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { treeOf } from '../command-tree.ts';
import { completionLines } from '../completions.ts';
import type { CommonOptions, Context } from '../context.ts';
import { common, optionsOf, printJson } from '../options.ts';
import { SCRIPTS, SHELLS } from './completion-scripts.ts';

export function register(program: Command, context: Context): void {
  const completion = program
    .command('completion')
    .description('a script for your shell that completes commands, options and the records of the ledger')
    .argument('<shell>', SHELLS.join(', '))
    .argument('[words...]', 'used by the scripts themselves: heldby completion words SHELL -- WORDS');
  common(completion)
    .addHelpText(
      'after',
      '\nExample:\n  eval "$(heldby completion bash)"\n  heldby completion fish > ~/.config/fish/completions/heldby.fish',
    )
    .action(async (shell: string, words: string[]) => {
      if (shell === 'words') {
        const lines = await completionLines(treeOf(program), words, {
          environment: context.environment,
          workingFolder: context.workingFolder,
          figures: async () => (await import('../../inquiry/grounds-figures.ts')).FIGURES,
        });
        if (lines !== '') context.out(lines);
        return;
      }
      const script = SCRIPTS[shell];
      if (script === undefined)
        throw new HeldbyError('USAGE', `There is no script for "${shell}".`, `One of: ${SHELLS.join(', ')}.`);
      if (optionsOf<CommonOptions>(completion).json) printJson(context, { shell, script });
      else context.out(script);
    });
}
