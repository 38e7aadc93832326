import { reportOf } from '../../src/inquiry/report.ts';
import { timelineOf } from '../../src/inquiry/timeline.ts';
import type { Db } from '../../src/ledger/open.ts';
import { holdsPicture, printedLots, type ReportFormat } from '../../src/report/print.ts';
import { readStyle, type Style } from '../../src/report/style.ts';

/** A style that differs from the default in what is given. */
export const styleWith = (changes: Readonly<Record<string, unknown>> = {}): Style =>
  readStyle(JSON.stringify(changes), () => '{}');

/** Objects of a ledger as they are printed. */
export function printed(
  db: Db,
  objects: readonly string[],
  format: ReportFormat,
  style = styleWith(),
  asOf?: number,
): string {
  const lots = objects.map((object) => ({
    lot: reportOf(db, object, asOf),
    timeline: holdsPicture(format, style) ? timelineOf(db, object) : undefined,
  }));
  return Buffer.from(printedLots(lots, format, style)).toString('utf8');
}
