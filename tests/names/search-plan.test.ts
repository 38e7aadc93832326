import { expect, test } from 'vitest';
import { patternFrom } from '../../src/names/pattern.ts';
import { plannedWalks } from '../../src/names/search-plan.ts';

test.each<[rule: string, reading: string, walks: string[]]>([
  ['1 a gap at the end', 'Ferr[..]d', ['forward']],
  ['1 a gap at the beginning', '[---]rand', ['backward']],
  ['1 a lost first letter', '[.]errand', ['backward']],
  ['2 a run in the middle', 'Fer[---]and', ['forward', 'backward']],
  ['2 a long reading', 'Langstonworthington', ['forward', 'backward']],
  ['1 nothing is read', '[---]', ['forward']],
])('plannedWalks: %s', (_rule, reading, walks) =>
  expect(plannedWalks(patternFrom(reading), 40).map(({ direction }) => direction)).toEqual(walks),
);

test('plannedWalks: two walks share the limit and every state between them', () => {
  const pattern = patternFrom('Fer[---]and');
  const [forward, backward] = plannedWalks(pattern, 37);
  expect((forward?.early.limit ?? 0) + (backward?.early.limit ?? 0)).toBe(36);
  expect((forward?.early.states ?? 0) + (backward?.early.states ?? 0)).toBe(pattern.length + 1);
});

test('plannedWalks: a limit that cannot be shared takes one walk', () =>
  expect(plannedWalks(patternFrom('Langstonworthington'), 0)).toHaveLength(1));
