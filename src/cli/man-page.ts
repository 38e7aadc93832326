import type { EventEmitter } from 'node:events';
import type { Command } from 'commander';
import { VERSION } from '../version.ts';
import { kept, request, roffText, term } from './roff.ts';

type Topics = Readonly<Record<string, { readonly about: string; readonly text: string }>>;

/**
 * The manual page in roff, made from the commands themselves and the topics of `help`, so that it says what they say.
 * @see man(7): the macros used are TH, SH, SS, PP, TP and B.
 */
export function manPage(program: Command, topics: Topics): string {
  const [summary = '', ...more] = program.description().split('\n\n');
  const lines = [
    // No date: the same program prints the same page on every day.
    `.TH "${program.name().toUpperCase()}" "1" "" "${roffText(`${program.name()} ${VERSION}`)}" "User commands"`,
    '.SH NAME',
    `${program.name()} \\- a provenance research ledger: who held an object, when, and on which evidence`,
    '.SH SYNOPSIS',
    request('B', `${program.name()} ${program.usage()}`),
    '.SH DESCRIPTION',
    roffText(summary),
    ...more.flatMap(kept),
    ...kept(textAfter(program)),
    '.SH OPTIONS',
    ...options(program),
    '.SH COMMANDS',
    ...program.commands.flatMap(section),
    '.SH TOPICS',
    ...Object.entries(topics).flatMap(([name, { about, text }]) => [
      request('SS', `${program.name()} help ${name}`),
      roffText(`${about}.`),
      ...kept(text),
    ]),
  ];
  return lines.join('\n');
}

/** A command, or the commands under it. */
function section(command: Command): readonly string[] {
  if (command.commands.length > 0) return command.commands.flatMap(section);
  const help = command.createHelp();
  return [
    request('SS', help.commandUsage(command)),
    roffText(command.description()),
    ...help
      .visibleArguments(command)
      .flatMap((argument) => term(help.argumentTerm(argument), help.argumentDescription(argument))),
    ...options(command),
    ...kept(textAfter(command)),
  ];
}

/** The options of a command; those that every command has stand once, at the head of the page. */
const options = (command: Command): readonly string[] => {
  const help = command.createHelp();
  const everywhere = (command.parent === null ? [] : rootOf(command).options).map(({ flags }) => flags);
  return help
    .visibleOptions(command)
    .filter(({ flags, long }) => !everywhere.includes(flags) && (command.parent === null || long !== '--help'))
    .flatMap((option) => term(help.optionTerm(option), help.optionDescription(option)));
};

const rootOf = (command: Command): Command => (command.parent === null ? command : rootOf(command.parent));

/** What stands behind the options in the help of a command: its notation and its examples. */
function textAfter(command: Command): string {
  let text = '';
  const write = (more: string): void => {
    text += more;
  };
  // The event that commander's addHelpText listens to; its types leave out that a command is an EventEmitter.
  (command as unknown as EventEmitter).emit('afterHelp', { error: false, command, write });
  return text.trim().replace(/\n*Exit status: as for every command, see .*$/, '');
}
