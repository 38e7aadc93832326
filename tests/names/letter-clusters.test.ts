import { expect, test } from 'vitest';
import { HeldbyError } from '../../src/errors.ts';
import { clustersOf } from '../../src/names/letter-clusters.ts';

test('plain letters stand one by one', () =>
  expect(clustersOf('Ab')).toEqual([
    { char: 'A', dotted: false, at: 0 },
    { char: 'b', dotted: false, at: 1 },
  ]));

test('a dot below marks its letter, whatever else is combined with it', () =>
  expect(clustersOf('e\u0301\u0323x')).toEqual([
    { char: 'é', dotted: true, at: 0 },
    { char: 'x', dotted: false, at: 3 },
  ]));

test('a dot below no letter is refused at its place', () => {
  try {
    clustersOf('é .\u0323');
    expect.unreachable();
  } catch (error) {
    expect(error).toBeInstanceOf(HeldbyError);
    expect(error).toMatchObject({ code: 'READING', where: 'character 3' });
  }
});
