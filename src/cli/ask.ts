/** Asks for one line at the terminal; undefined when there are no more. */
export type Ask = (prompt: string) => Promise<string | undefined>;

/** Whether somebody can be asked: no prompt unless both ends are a terminal. */
export const canAsk = (): boolean => process.stdin.isTTY === true && process.stdout.isTTY === true;

/** A conversation at the terminal, which is given back to the shell at its end. */
export async function conversing<T>(converse: (ask: Ask) => Promise<T>): Promise<T> {
  const { createInterface } = process.getBuiltinModule('node:readline');
  const terminal = createInterface({ input: process.stdin, output: process.stdout, terminal: true });
  const lines = terminal[Symbol.asyncIterator]();
  try {
    return await converse(async (prompt) => {
      terminal.setPrompt(prompt);
      terminal.prompt();
      const next = await lines.next();
      return next.done === true ? undefined : next.value;
    });
  } finally {
    terminal.close();
  }
}
