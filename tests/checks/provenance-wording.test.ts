// The rules by which museums print a provenance, each with the guide that gives it, on the demo as it is printed.
import { resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makePlace, type Place } from '../cli/heldby.ts';

const EXAMPLES = resolve(import.meta.dirname, '../../examples');

/**
 * AAM: N. H. Yeide, K. Akinsha and A. L. Walsh, The AAM Guide to Provenance Research, American Association of Museums,
 * 2001, as two museums quote it: Toledo Museum of Art, "How to read a provenance" (toledomuseum.org/collection/
 * provenance-and-tma/how-to-read-a-provenance), and Art Institute of Chicago, "How to read provenance"
 * (artic.edu/aic/collections/provenance/howtoread).
 */
let place: Place;
let caddy: string;
let slope: string;
beforeAll(() => {
  place = makePlace();
  place.run('init');
  for (const name of ['records.jsonl', 'lists.csv'])
    expect(place.run('import', resolve(EXAMPLES, name)).status).toBe(0);
  caddy = place.run('report', '230').out;
  slope = place.run('report', '214').out;
}, 120_000);
afterAll(() => place.remove());

/** The last paragraph of a section, on one line. */
const provenanceOf = (report: string): string =>
  (report.split('\nProvenance\n')[1]?.split(/\n\n[A-Z][^\n]*\n-+\n/)[0] ?? '')
    .trim()
    .split('\n\n')
    .at(-1)
    ?.replaceAll('\n', ' ') ?? '';
const holders = ['Josiah Harcomb', 'Margaret', 'Amelia Lisle'];

describe('provenance as museums print it', () => {
  test('AAM: in the order of time, the earliest known holder first', () => {
    const places = holders.map((name) => provenanceOf(caddy).indexOf(name));
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect(places[0]).toBeGreaterThanOrEqual(0);
  });

  test('AAM: a semicolon where it passed directly from one to the next', () =>
    expect(provenanceOf(caddy)).toMatch(/Josiah Harcomb[^.;]*;(?:\[\d+\])? [^.;]*by descent to Margaret/));

  test('AAM: a full stop where it did not pass directly, or how it passed is not known', () => {
    expect(provenanceOf(slope)).toMatch(/\)\.(?:\[\d+\])? [A-Z][^;]*Julian Peter Ferrand/);
    expect(provenanceOf(slope)).not.toContain(';');
  });

  test('AAM: years of life in brackets', () => expect(provenanceOf(caddy)).toMatch(/Josiah Harcomb \[1779–1841\]/));

  test('AAM: dealers, auction houses and agents in parentheses', () =>
    expect(provenanceOf(slope)).toMatch(/\(Retailer’s mark “Widow Asher & Son[^)]*\)/));

  test('AAM: "possibly" or "probably" where it is not certain, with a note that says on what it rests', () =>
    expect(provenanceOf(slope)).toMatch(/Probably Julian Peter Ferrand[^.;]*\.\[\d+\]/));

  test('National Gallery of Australia, "How to read provenance information": "by descent" within a family', () =>
    expect(provenanceOf(caddy)).toContain('by descent to'));

  test('common practice: each holder has a note, and each note is there', () => {
    for (const [, number] of provenanceOf(caddy).matchAll(/\[(\d+)\]/g))
      expect(caddy).toMatch(new RegExp(`^\\[${number}\\] `, 'm'));
    expect([...provenanceOf(caddy).matchAll(/\[\d\]/g)].length).toBeGreaterThanOrEqual(holders.length);
  });

  test('common practice: the signs that are used are explained, and gaps are said to be gaps', () => {
    expect(caddy.replaceAll('\n', ' ')).toContain(
      'A semicolon: passed directly. A full stop: how it passed is not known.',
    );
    expect(provenanceOf(caddy)).toMatch(/\[Nothing is known after 1889\.\]/);
  });

  test('Washington Conference Principles on Nazi-Confiscated Art, 1998: the years 1933 to 1945 are asked about', () =>
    expect(caddy.replaceAll(/\s+/g, ' ')).toContain(
      'Who held it between 30 January 1933 and 8 May 1945 is not known.',
    ));
});
