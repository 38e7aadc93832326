import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { readName } from '../../src/names/name.ts';
import { plainName } from '../../src/names/plain-name.ts';

/**
 * Names as printed in lists, with surname and forenames set apart by others.
 * 1. A legislature 1919-1939: fivethirtyeight/data, congress-demographics, CC BY 4.0. Its forenames keep a suffix and a name
 * in brackets, which `readName` keeps apart.
 * 2. Pay entries of an army 1642-1644: drgavinr/cc-by-data, Essex army accounts; text Open Government Licence v3, database
 * CC BY. Cut out by a pattern, so surname and forenames are its last word and those before.
 */
const linesOf = (file: string): string[] =>
  readFileSync(new URL(`data/${file}`, import.meta.url), 'utf8')
    .trim()
    .split('\n')
    .filter((line) => !line.startsWith('#'))
    .slice(1);

/** Cells between commas that stand outside inverted commas. */
const cellsOf = (line: string): string[] =>
  line.split(/,(?=(?:[^"]*"[^"]*")*[^"]*$)/).map((cell) => cell.replace(/^"(.*)"$/, '$1'));

test('readName: 1,658 names of a legislature, surname first', () => {
  const lines = linesOf('printed-names.csv');
  expect(lines).toHaveLength(1658);
  for (const line of lines) {
    const [name = '', surname, forenames = ''] = cellsOf(line);
    const read = readName(name);
    const beside = forenames
      .replace(/\([^)]*\)/g, '')
      .replace(/,? (?:[JS]r\.|II)(?= |$)/, '')
      .trim();
    expect({ name, surname: read.surname, forenames: read.forenames.join(' ') }).toEqual({
      name,
      surname,
      forenames: beside,
    });
  }
});

test('readName: names of clerks of 1642 to 1644, surname last', () => {
  const lines = linesOf('army-pay-1642-44.csv');
  const differing = lines.filter((line) => {
    const [, name = '', surname = '', forenames = '', rank = ''] = cellsOf(line);
    const read = readName(name.slice(rank.length + 1));
    return read.surname !== surname || read.forenames.join(' ') !== forenames;
  });
  expect(lines.length).toBeGreaterThan(2000);
  expect(differing.map((line) => cellsOf(line)[1])).toEqual(['Captaine St leger']); // one surname, which the source cuts in two
});

test('plainName: takes the names of a legislature apart as readName does', () => {
  let plain = 0;
  for (const line of linesOf('printed-names.csv')) {
    const [, surname = '', forenames = ''] = cellsOf(line);
    const text = `${forenames} ${surname.charAt(0)}${surname.slice(1).toLowerCase()}`;
    const parts = plainName(text);
    if (parts === undefined) continue;
    plain++;
    const read = readName(text);
    expect({ text, ...parts }).toEqual({ text, surname: read.surname, forenames: read.forenames.join(' ') });
  }
  expect(plain).toBeGreaterThan(1000);
});
