import { describe, expect, test } from 'vitest';
import { failure, shown } from './reading.ts';

describe('centuries and decades', () => {
  test.each<[text: string, days: string]>([
    ['19th century', '1800-01-01 1899-12-31'],
    ['the nineteenth century', '1800-01-01 1899-12-31'],
    ['19th-century', '1800-01-01 1899-12-31'],
    ['19th cent.', '1800-01-01 1899-12-31'],
    ['19th c.', '1800-01-01 1899-12-31'],
    ['19thC', '1800-01-01 1899-12-31'],
    ['C19', '1800-01-01 1899-12-31'],
    ['XIXe siècle', '1800-01-01 1899-12-31'],
    ['s. xix', '1800-01-01 1899-12-31'],
    ['19. Jahrhundert', '1800-01-01 1899-12-31'],
    ['18th–19th century', '1700-01-01 1899-12-31'],
    ['18th to early 19th century', '1700-01-01 1833-12-31'],
    ['late 18th or early 19th century', '1766-01-01 1833-12-31'],
    ['late 18th/early 19th century', '1766-01-01 1833-12-31'],
    ['between the late 18th and the early 19th century', '1766-01-01 1833-12-31'],
    ['before the 19th century', '.. 1799-12-31'],
    ['1830s', '1830-01-01 1839-12-31'],
    ['the 1830s', '1830-01-01 1839-12-31'],
    ["1830's", '1830-01-01 1839-12-31'],
    ['1830s–40s', '1830-01-01 1849-12-31'],
    ['1830s–1840s', '1830-01-01 1849-12-31'],
    ['1830s or 1840s', '1830-01-01 1849-12-31'],
  ])('%s', (text, days) => expect(shown(text)).toBe(days));
});

describe('the turn of a century', () => {
  test.each<[text: string, days: string]>([
    ['turn of the century', '1890-01-01 1910-12-31'],
    ['turn of the 18th and 19th centuries', '1790-01-01 1810-12-31'],
    ['the turn of the 18th/19th century', '1790-01-01 1810-12-31'],
    ['turn of 1800', '1790-01-01 1810-12-31'],
  ])('%s', (text, days) => expect(shown(text)).toBe(days));
  test('the turn of one century may be either end of it', () => {
    expect(failure('turn of the 19th century').hint).toBe('Write “turn of 1800” or “turn of 1900”.');
  });
});
