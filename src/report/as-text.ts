import type { Block, Document } from './document.ts';
import { brokenLines, columnsOf, type Inline } from './lines.ts';
import { visible } from './safe-text.ts';

/** A document as plain text in so many columns, for a terminal or a letter. */
export const asText = ({ blocks }: Document, columns: number): string =>
  `${blocks.map((block) => blockText(block, columns)).join('\n\n')}\n`.replaceAll(/^\n+/g, '');

function blockText(block: Block, columns: number): string {
  switch (block.kind) {
    case 'heading': {
      const lines = broken(visible(block.text), columns);
      const rule = block.level === 1 ? '=' : '-';
      const width = Math.max(...lines.map(columnsOf));
      return `${block.level === 1 ? '\n' : ''}${[...lines, rule.repeat(width)].join('\n')}`;
    }
    case 'paragraph':
      return broken(lineText(block.line), columns).join('\n');
    case 'items': {
      const sign = (place: number): string => (block.numbered ? `${place + 1}. ` : '- ');
      return block.items.map((item, place) => hanging(sign(place), lineText(item), columns)).join('\n');
    }
    case 'notes':
      return [
        ...[visible(block.title), '-'.repeat(columnsOf(block.title))],
        ...block.notes.map(({ number, text }) => hanging(`[${number}] `, visible(text), columns)),
      ].join('\n');
    case 'picture':
      return block.lines
        .map(({ title, lines }) =>
          [visible(title), ...lines.map((line) => hanging('  ', visible(line), columns))].join('\n'),
        )
        .join('\n');
    case 'photograph':
      return ''; // HTML alone shows it
    case 'closing':
      return broken(visible(block.text), columns).join('\n');
  }
}

/** Lines that begin under the text of the first, behind its sign. */
const hanging = (sign: string, text: string, columns: number): string =>
  broken(text, columns - sign.length)
    .map((line, place) => `${place === 0 ? sign : ' '.repeat(sign.length)}${line}`)
    .join('\n');

const broken = (text: string, columns: number): string[] => brokenLines(text, Math.max(20, columns));

const lineText = (line: readonly Inline[]): string =>
  line.map((part) => ('text' in part ? visible(part.text) : `[${part.note}]`)).join('');
