/** A stretch of a line: words, or the number of a note. Words are escaped by whoever writes them out. */
export type Inline = { readonly text: string } | { readonly note: number };

export type NoteText = { readonly number: number; readonly text: string };

export const plain = (text: string): Inline[] => [{ text }];

/** A line without its notes. */
export const plainLine = (line: readonly Inline[]): string =>
  line.map((part) => ('text' in part ? part.text : '')).join('');

/** A text that ends as a sentence does. */
export const sentence = (text: string): string => (/[.!?…][”’)\]]?$/.test(text) ? text : `${text}.`);

/** The first letter large: for what a phrase puts at the head of a sentence. */
export const capital = (text: string): string => {
  const [first = '', ...rest] = text;
  return first.toUpperCase() + rest.join('');
};

/** Begins every line of a text in lines of so many columns, at spaces. */
export function brokenLines(text: string, columns: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && columnsOf(line) + 1 + columnsOf(word) > columns) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line];
}

/** Columns that a text takes: combining signs take none. */
export const columnsOf = (text: string): number => [...text.replaceAll(/\p{M}/gu, '')].length;
