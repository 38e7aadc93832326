import { lotQuestions } from '../../src/inquiry/lot-questions.ts';
import { reportOf } from '../../src/inquiry/report.ts';
import { timelineOf } from '../../src/inquiry/timeline.ts';
import type { Db } from '../../src/ledger/open.ts';
import { holdsPicture, printedText, type ReportFormat } from '../../src/report/print.ts';
import { readStyle, type Style } from '../../src/report/style.ts';

/** A style that differs from the default in what is given. */
export const styleWith = (changes: Readonly<Record<string, unknown>> = {}): Style =>
  readStyle(JSON.stringify(changes), 'style.json', () => '{}');

type TextFormat = Exclude<ReportFormat, 'docx'>;

/** Objects of a ledger as they are printed. */
export function printed(
  db: Db,
  objects: readonly string[],
  format: TextFormat,
  style = styleWith(),
  asOf?: number,
): string {
  const [text = ''] = printedAs([format], db, objects, style, asOf);
  return text;
}

/** The same in several forms, from the same answers. */
export function printedAs(
  formats: readonly TextFormat[],
  db: Db,
  objects: readonly string[],
  style = styleWith(),
  asOf?: number,
): string[] {
  const withPicture = formats.some((format) => holdsPicture(format, style));
  const lots = objects.map((object) => {
    const ask = lotQuestions(db);
    const lot = reportOf(db, object, asOf, ask);
    return { lot, timeline: withPicture ? timelineOf(db, lot.object.id, ask) : undefined };
  });
  return formats.map((format) =>
    printedText(holdsPicture(format, style) ? lots : lots.map(({ lot }) => ({ lot })), format, style),
  );
}
