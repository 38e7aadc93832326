import type { Command } from 'commander';

/** What can be typed behind a command: enough to complete a line without the program that carries it out. */
export type CommandTree = {
  readonly name: string;
  readonly about: string;
  readonly commands: readonly CommandTree[];
  readonly options: readonly { readonly names: readonly string[]; readonly about: string; readonly takes: string }[];
  readonly takes: readonly { readonly name: string; readonly many: boolean }[];
};

/** `takes` of an option: the name of its value, as in `--person <person>`; empty where it has none. */
export const treeOf = (command: Command): CommandTree => ({
  name: command.name(),
  about: command.description(),
  commands: command.commands.map(treeOf),
  options: command.options
    .filter(({ hidden }) => !hidden)
    .map(({ long, short, description, flags, required }) => ({
      names: [long, short].filter((each) => each !== undefined && each !== null),
      about: description,
      takes: (required && /<([^>]+)>/.exec(flags)?.[1]) || '',
    })),
  takes: command.registeredArguments.map((each) => ({ name: each.name(), many: each.variadic })),
});

/** Where the build keeps the tree of all commands, beside the program. */
export const COMMANDS_FILE = 'commands.json';

/** The figures that `grounds` can be asked for, by what they are of. */
export type FigureNames = Readonly<
  Record<string, readonly { readonly name: string; readonly takes: string; readonly about: string }[]>
>;

/** Where the build keeps them. */
export const FIGURES_FILE = 'figures.json';
