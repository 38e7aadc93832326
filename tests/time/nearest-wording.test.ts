import { describe, expect, test } from 'vitest';
import { failure } from './reading.ts';

describe('the nearest wording is offered', () => {
  test.each<[text: string, fault: string, nearest: string]>([
    ['Febuary 1834', 'Febuary', 'February 1834'],
    ['16th Setember, 1834', 'Setember', '16th September, 1834'],
    ['Micheelmas 1834', 'Micheelmas', 'Michaelmas 1834'],
    ['befor 1834', 'befor', 'before 1834'],
    ['beetween 1834 and 1836', 'beetween', 'between 1834 and 1836'],
    ['14 thermidore an VIII', 'thermidore', '14 thermidor an VIII'],
    ['9 Goerge III', 'Goerge', '9 George III'],
    ['early ninteenth century', 'ninteenth', 'early nineteenth century'],
    ['16 May 1834 xyz', 'xyz', '16 May 1834'],
  ])('%s', (text, fault, nearest) => {
    const { message, hint, where } = failure(text);
    expect(message).toContain(`“${fault}”: this is not understood`);
    expect(where).toBe(`character ${text.indexOf(fault) + 1}`);
    expect(hint).toBe(`Did you mean “${nearest}”?`);
  });
  test('nothing near: examples are given', () => {
    expect(failure('hello').hint).toContain('Write for example 1834');
  });
});
