import { describe, expect, test } from 'vitest';
import { HeldbyError } from '../../src/errors.ts';
import { refuseLooseSigns } from '../../src/names/loose-signs.ts';

describe('refuseLooseSigns', () => {
  test.each<[text: string, where: number, hint: RegExp]>([
    ['Capt. Ho??', 9, /_t for an unsure t/],
    ['Capt. Holt?', 11, /_t for an unsure t/],
    ['Capt. H*lt', 8, /\[\.\] for one lost letter/],
  ])('1 a question mark or an asterisk: %s', expectRefusal);

  test.each<[text: string, where: number, hint: RegExp]>([
    ['Capt. ...lt', 7, /\[\.\.\] for two/],
    ['Capt. Ho…', 9, /\[\.\.\] for two/],
    ['Capt. Ho··t', 9, /\[\.\.\] for two/],
  ])('2 dots: %s', expectRefusal);

  test.each<[text: string, where: number, hint: RegExp]>([
    ['Capt. Hol--', 10, /\[---\]/],
    ['Capt. Hol-', 10, /goes on in the next line/],
  ])('3 hyphens: %s', expectRefusal);

  test.each<[text: string, where: number, hint: RegExp]>([
    ['Capt. [illegible]', 7, /\[---\]/],
    ['Capt. Holt [struck through] Wrenn', 12, /\[\[Holt\]\]/],
    ['Capt. Holtt [sic]', 13, /Leave it out/],
  ])('4 a remark in brackets: %s', expectRefusal);

  test.each([
    'Capt. Ferr[..]d',
    'Capt. Ferr[---]',
    'Capt. Ferr[and?]',
    'Capt. F_e_(r/n)rand',
    'Why not\\?',
    'Holt - Captain',
    'Holt—Captain | 2nd Fen-|cibles',
    'Ferrand-Holt',
    'Capt. [Holt]',
    '',
  ])('passes: %s', (text) => expect(() => refuseLooseSigns(text)).not.toThrow());
});

function expectRefusal(text: string, where: number, hint: RegExp): void {
  const act = () => refuseLooseSigns(text);
  expect(act).toThrow(HeldbyError);
  expect(act).toThrow(expect.objectContaining({ code: 'READING', where: `character ${where}` }));
  expect(act).toThrow(expect.objectContaining({ hint: expect.stringMatching(hint) }));
}
