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
  ])('%s', (text, fault, nearest) => {
    const { message, hint, where } = failure(text);
    expect(message).toContain(`“${fault}”: this is not understood`);
    expect(where).toBe(`character ${text.indexOf(fault) + 1}`);
    expect(hint).toBe(`Did you mean “${nearest}”?`);
  });
  test.each<[text: string, hint: string]>([
    ['16 May 1834 xyz', 'Without “xyz” it would be read: “16 May 1834”.'],
    ['Kal. 1802', 'Write number, Kal., Non. or Id., month and year, as “III Non. Maii 1844”; or the day of the month.'],
    ['George III period', 'Write “reign of George III”.'],
    ['style Empire', 'That is a style; for the time write “1804–1815”.'],
    ['late Victorian', 'That is a style; for the time write “reign of Victoria”.'],
    ['Regency', 'That is a style; for the time write “5 February 1811 – 29 January 1820” or “c. 1800–1830”.'],
    ['George III', 'Write “reign of George III”.'],
    ['n.d.', 'Leave the date out.'],
  ])('what to write instead: %s', (text, hint) => {
    expect(failure(text).hint).toBe(hint);
  });
  test('nothing near: examples are given', () => {
    expect(failure('hello').hint).toContain('Write for example 1834');
  });
});
