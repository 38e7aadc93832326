import type { Block, Document } from './document.ts';
import type { Inline } from './lines.ts';
import { escapedMarkdown as safe } from './safe-text.ts';

/** A document in Markdown (CommonMark with footnotes as several readers have them). */
export const asMarkdown = ({ blocks }: Document): string => {
  const labels = noteLabels(blocks);
  return `${blocks.map((block, place) => blockText(block, labels[place] ?? 1)).join('\n\n')}\n`;
};

/** Notes are numbered anew under each lot, and a label counts for the whole document: `[^2-1]` is the second lot's first. */
function noteLabels(blocks: readonly Block[]): number[] {
  const through = blocks.filter(({ kind }) => kind === 'notes').length <= 1;
  let lot = 0;
  return blocks.map((block) => {
    if (block.kind === 'heading' && block.level === 1 && !(through && lot > 0)) lot += 1;
    return Math.max(lot, 1);
  });
}

function blockText(block: Block, lot: number): string {
  switch (block.kind) {
    case 'heading':
      return `${'#'.repeat(block.level)} ${safe(block.text)}`;
    case 'paragraph':
      return lineText(block.line, lot);
    case 'items':
      return block.items
        .map((item, place) => `${block.numbered ? `${place + 1}.` : '-'} ${lineText(item, lot)}`)
        .join('\n');
    case 'notes':
      return [
        `## ${safe(block.title)}`,
        block.notes.map(({ number, text }) => `[^${lot}-${number}]: ${safe(text)}`).join('\n'),
      ].join('\n\n');
    case 'picture':
      return block.lines
        .map(({ title, lines }) =>
          [`**${safe(title)}**`, lines.map((line) => `- ${safe(line)}`).join('\n')].join('\n\n'),
        )
        .join('\n\n');
    case 'photograph':
      return ''; // HTML alone shows it
    case 'closing':
      return `---\n\n${safe(block.text)}`;
  }
}

/** Space at the ends of a part is kept, because what follows may join it. */
const lineText = (line: readonly Inline[], lot: number): string =>
  line
    .map((part, place) => {
      if ('note' in part) return `[^${lot}-${part.note}]`;
      if (part.text.trim() === '') return ' ';
      const lead = place > 0 && /^\s/.test(part.text) ? ' ' : '';
      const tail = place < line.length - 1 && /\s$/.test(part.text) ? ' ' : '';
      const text = safe(part.text);
      // Only what stands at the start of the line can begin a list or a heading.
      return `${lead}${place === 0 ? text : text.replace(/^\\([-+=])/, '$1').replace(/^(\d+)\\([.)])/, '$1$2')}${tail}`;
    })
    .join('');
