import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Command } from 'commander';
import { HeldbyError } from '../../errors.ts';
import { aboutAnswer } from '../../inquiry/about.ts';
import { timelineOf } from '../../inquiry/timeline.ts';
import { pictureBlock } from '../../report/compose.ts';
import { defaultStyle } from '../../report/style.ts';
import { svgOf, WIDE_PICTURE } from '../../report/svg.ts';
import { wordsOf } from '../../report/words.ts';
import { writeWhole } from '../../report/write-file.ts';
import { actNumber, asking, type CommonOptions, type Context, widthOf } from '../context.ts';
import { common, example, optionsOf, printAnswer } from '../options.ts';
import { pictureInText } from '../picture-text.ts';

type TimelineOptions = CommonOptions & { readonly svg?: string; readonly width?: string; readonly force?: true };

const LEAST_WIDTH = 240;
const MOST_WIDTH = 4000;

export function register(program: Command, context: Context): void {
  const command = program
    .command('timeline')
    .description('the picture: windows, marks, candidates, holders or appointments on one calendar')
    .argument('<record>', 'an object, a mark or a person: id, key, reference or name')
    .option('--svg <file>', 'draw it as SVG')
    .option('--width <units>', `width of the SVG, ${LEAST_WIDTH} to ${MOST_WIDTH}`)
    .option('--force', 'replace the file if it is there');
  common(command)
    .addHelpText('after', example('heldby timeline 214', 'heldby timeline "Julian Peter Ferrand" --svg ferrand.svg'))
    .action((words: string) => {
      const options = optionsOf<TimelineOptions>(command);
      return asking(context, options, (db) => {
        const answer = timelineOf(db, words);
        const about = aboutAnswer(db, options.asOf === undefined ? undefined : actNumber(options.asOf));
        const { picture, lines } = pictureBlock(answer, wordsOf(defaultStyle()));
        if (options.svg !== undefined) {
          const path = resolve(context.workingFolder, options.svg);
          if (existsSync(path) && !options.force)
            throw new HeldbyError('CONFLICT', `${options.svg} exists already.`, 'Give another name, or --force.');
          const all = lines.flatMap((group) => [`${group.title}.`, ...group.lines.map((line) => `${line}.`)]);
          writeWhole(path, [`${svgOf(picture, widthAsked(options.width), 'timeline', all)}\n`]);
        }
        if (options.json) printAnswer(context, db, { ...answer, about });
        else if (options.svg !== undefined) context.out(`Drawn: ${options.svg}`);
        else context.out(pictureInText(picture, widthOf(context), context.style));
      });
    });
}

function widthAsked(text: string | undefined): number {
  if (text === undefined) return WIDE_PICTURE;
  const width = Number(text);
  if (!Number.isInteger(width) || width < LEAST_WIDTH || width > MOST_WIDTH)
    throw new HeldbyError(
      'USAGE',
      `"${text}" is no width of a picture.`,
      `Give a whole number from ${LEAST_WIDTH} to ${MOST_WIDTH}.`,
    );
  return width;
}
