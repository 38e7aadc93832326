import { strFromU8, unzipSync } from 'fflate';

/** Cells of one column that are one cell; rows and columns counted from 0, `lastRow` included. */
export type MergedDown = { readonly column: number; readonly firstRow: number; readonly lastRow: number };

/**
 * Which cells of a sheet are merged over several rows. What stands in the first of them holds for all, and is kept in the
 * first only; the reader of sheets says nothing of it.
 * @see ISO/IEC 29500-1, 18.3.1.54 and 18.3.1.55 (mergeCell, mergeCells)
 */
export function mergedDown(bytes: Buffer, sheet: string): MergedDown[] {
  const archive = unzipSync(bytes, { filter: ({ name }) => /^xl\/(?:workbook\.xml|_rels\/|worksheets\/)/.test(name) });
  const part = (name: string): string => {
    const found = archive[name];
    return found === undefined ? '' : strFromU8(found);
  };
  const link = elements(part('xl/workbook.xml'), 'sheet').find((each) => inPlain(each['name'] ?? '') === sheet)?.['id'];
  const target = elements(part('xl/_rels/workbook.xml.rels'), 'Relationship').find((each) => each['Id'] === link);
  const file = (target?.['Target'] ?? '').replace(/^\/?(?:xl\/)?/, 'xl/');
  return elements(part(file), 'mergeCell').flatMap(({ ref = '' }) => {
    const [, column = '', from, to] = /^([A-Z]+)(\d+):[A-Z]+(\d+)$/.exec(ref) ?? [];
    return from === undefined || from === to
      ? []
      : [{ column: columnNumber(column), firstRow: Number(from) - 1, lastRow: Number(to) - 1 }];
  });
}

/** Whether the days of a workbook count from 1904. @see ISO/IEC 29500-1, 18.2.28 (workbookPr) */
export function countsFrom1904(bytes: Buffer): boolean {
  const workbook = unzipSync(bytes, { filter: ({ name }) => name === 'xl/workbook.xml' })['xl/workbook.xml'];
  const [properties] = workbook === undefined ? [] : elements(strFromU8(workbook), 'workbookPr');
  return ['1', 'true'].includes(properties?.['date1904'] ?? '');
}

/** The attributes of every element of this name, without their namespaces. */
const elements = (xml: string, name: string): Readonly<Record<string, string>>[] =>
  [...xml.matchAll(new RegExp(`<(?:\\w+:)?${name}\\s([^>]*)>`, 'g'))].map(([, attributes = '']) =>
    Object.fromEntries(
      [...attributes.matchAll(/(?:\w+:)?(\w+)="([^"]*)"/g)].map(([, key = '', value = '']) => [key, value]),
    ),
  );

const ENTITIES: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };
const inPlain = (text: string): string => text.replaceAll(/&(\w+);/g, (whole, name: string) => ENTITIES[name] ?? whole);

/** A is 0, Z is 25, AA is 26. */
const columnNumber = (letters: string): number =>
  [...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1;
