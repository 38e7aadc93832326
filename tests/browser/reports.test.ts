/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
// Reports and pictures as a reader sees them, in a real browser: opened from a file, at a desk, on a telephone, on paper.
import { copyFileSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import axe from 'axe-core';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makePlace, type Place } from '../cli/heldby.ts';
import { HOSTILE_LINES } from '../report/hostile.ts';
import { openBrowser } from './browser.ts';

const EXAMPLES = resolve(import.meta.dirname, '../../examples');

let browser: Browser;
let place: Place;
let hostile: Place;

beforeAll(async () => {
  place = makePlace();
  hostile = makePlace();
  place.run('init');
  for (const name of ['records.jsonl', 'lists.csv']) {
    copyFileSync(resolve(EXAMPLES, name), place.path(name));
    expect(place.run('import', name).status).toBe(0);
  }
  expect(place.run('report', '--all', '--format', 'html', '--out', 'out').status).toBe(0);
  expect(place.run('timeline', '230', '--svg', 'object.svg').status).toBe(0);
  expect(place.run('timeline', 'brome-nathaniel', '--svg', 'person.svg').status).toBe(0);
  expect(place.run('timeline', '214-flap', '--svg', 'mark.svg').status).toBe(0);
  hostile.run('init');
  writeFileSync(hostile.path('hostile.jsonl'), HOSTILE_LINES.map((line) => JSON.stringify(line)).join('\n'));
  expect(hostile.run('import', 'hostile.jsonl').status).toBe(0);
  expect(hostile.run('object', 'add', 'zz', '--title', 'L'.repeat(300)).status).toBe(0);
  writeFileSync(hostile.path('style.json'), '{"living":"print"}');
  expect(hostile.run('report', '--all', '--format', 'html', '--style', 'style.json', '--out', 'out').status).toBe(0);
  browser = await openBrowser();
}, 120_000);

afterAll(async () => {
  await browser?.close();
  place.remove();
  hostile.remove();
});

type Seen = { readonly page: Page; readonly asked: readonly string[]; readonly said: readonly string[] };

/** Opens a file at a width, does something with the page, and tells what the page asked for and what went wrong. */
async function seen<T>(file: string, width: number, look: (seen: Seen) => Promise<T>): Promise<T> {
  const page = await browser.newPage({ viewport: { width, height: 900 } });
  const asked: string[] = [];
  const said: string[] = [];
  page.on('request', (request) => asked.push(request.url()));
  page.on('console', (message) => said.push(message.text()));
  page.on('pageerror', (error) => said.push(String(error)));
  page.on('dialog', (dialog) => {
    said.push(`dialog ${dialog.message()}`);
    void dialog.dismiss();
  });
  await page.goto(pathToFileURL(file).href);
  const result = await look({ page, asked, said });
  await page.close();
  return result;
}

/** A click that does not wait until the page has been drawn, which takes long on a machine with other work. */
async function follow(page: Page, link: string, to: RegExp): Promise<void> {
  await page
    .locator(link)
    .first()
    .evaluate((each) => (each as HTMLElement).click());
  await page.waitForURL(to);
}

const LOTS = ['214', '221', '230', '238', '245'];
const PICTURES = ['object.svg', 'person.svg', 'mark.svg'];
const DESK = 1200;
const TELEPHONE = 360;
const NARROWEST = 320;
/** A4 less margins of 15 mm, at 96 dots an inch. */
const PAPER = 680;

/** What is wrong with the words of the pictures that are shown: laid over each other, cut off, or faint. */
const picturesFaults = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const faults: string[] = [];
    const luminance = (color: string): number => {
      const [r = 0, g = 0, b = 0] = (color.match(/[\d.]+/g) ?? []).slice(0, 3).map((part) => {
        const c = Number(part) / 255;
        return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
      });
      return 0.2126 * r + 0.7152 * g + 0.0722 * b;
    };
    for (const picture of document.querySelectorAll<SVGSVGElement>('svg[role=img]')) {
      const frame = picture.getBoundingClientRect();
      if (frame.width === 0) continue;
      const texts = [...picture.querySelectorAll('text')].map((text) => ({
        words: text.textContent ?? '',
        own: text.getBoundingClientRect(),
        room: (text.parentElement as unknown as SVGSVGElement).getBoundingClientRect(),
        ink: getComputedStyle(text).fill,
      }));
      for (const [place, { words, own, ink }] of texts.entries()) {
        if (own.left < frame.left - 1 || own.right > frame.right + 1 || own.bottom > frame.bottom + 1)
          faults.push(`beyond the picture: ${words}`);
        const contrast = 1.05 / (luminance(ink) + 0.05); // WCAG 2.2, 1.4.3, against white
        if (contrast < 4.5) faults.push(`faint (${contrast.toFixed(1)}): ${words}`);
        for (const other of texts.slice(place + 1)) {
          const across = Math.min(own.right, other.own.right) - Math.max(own.left, other.own.left);
          // Boxes of letters hold the room of accents and tails; ink on ink needs more than that.
          const down = Math.min(own.bottom, other.own.bottom) - Math.max(own.top, other.own.top);
          if (across > 1 && down > own.height * 0.3) faults.push(`“${words}” over “${other.words}”`);
        }
      }
    }
    return faults;
  });

const scrollsSideways = (page: Page): Promise<boolean> =>
  page.evaluate(() => document.documentElement.scrollWidth > document.documentElement.clientWidth);

describe('a report in a browser', () => {
  test('is drawn with letters: what is said below of their places would else be said of nothing', () =>
    seen(place.path('out/230.html'), DESK, async ({ page }) => {
      const without = await page.evaluate(() =>
        [...document.querySelectorAll('h1, h2, figure > div.wide text')].flatMap((each) => {
          const letters = document.createRange();
          letters.selectNodeContents(each);
          return letters.getBoundingClientRect().width > 10 ? [] : [each.textContent];
        }),
      );
      expect(without).toEqual([]);
    }));

  test.each([...LOTS, 'index'])('%s opens from a file and asks for nothing else', (lot) =>
    seen(place.path(`out/${lot}.html`), DESK, async ({ asked, said }) => {
      expect(asked).toEqual([pathToFileURL(place.path(`out/${lot}.html`)).href]);
      expect(said).toEqual([]);
    }),
  );

  test.each([DESK, TELEPHONE, NARROWEST])(
    'at %i dots nothing lies beyond the side, and no label over another',
    async (width) => {
      for (const lot of [...LOTS, 'index'])
        await seen(place.path(`out/${lot}.html`), width, async ({ page }) => {
          expect({ lot, sideways: await scrollsSideways(page), faults: await picturesFaults(page) }).toEqual({
            lot,
            sideways: false,
            faults: [],
          });
        });
    },
  );

  test('with letters a twelfth wider than those reckoned with, too', () =>
    seen(place.path('out/230.html'), DESK, async ({ page }) => {
      await page.addStyleTag({ content: 'svg text { letter-spacing: 0.04em }' });
      expect((await picturesFaults(page)).filter((fault) => fault.includes('over'))).toEqual([]);
    }));

  test('one picture is shown: the wide one at a desk and on paper, the narrow one on a telephone', async () => {
    const shown = (page: Page) =>
      page.evaluate(() =>
        [...document.querySelectorAll('figure > div')]
          .filter((each) => each.getBoundingClientRect().height > 0)
          .map((each) => each.className),
      );
    expect(await seen(place.path('out/214.html'), DESK, ({ page }) => shown(page))).toEqual(['wide']);
    expect(await seen(place.path('out/214.html'), TELEPHONE, ({ page }) => shown(page))).toEqual(['narrow']);
    const printed = seen(place.path('out/214.html'), TELEPHONE, async ({ page }) => {
      await page.emulateMedia({ media: 'print' });
      return shown(page);
    });
    expect(await printed).toEqual(['wide']);
  });

  test.each(LOTS)('%s on paper: no picture is cut by the end of a page, no label over another', (lot) =>
    seen(place.path(`out/${lot}.html`), PAPER, async ({ page }) => {
      await page.emulateMedia({ media: 'print' });
      expect(await picturesFaults(page)).toEqual([]);
      expect(await scrollsSideways(page)).toBe(false);
      const tallest = await page.evaluate(() =>
        Math.max(
          ...[...document.querySelectorAll('figure svg[role=img]')].map((each) => each.getBoundingClientRect().height),
        ),
      );
      expect(tallest).toBeLessThan(1000); // A4 less margins has 1009 dots
      const pdf = await page.pdf({ format: 'A4' });
      expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    }),
  );

  /** Deque Systems, axe-core: every rule of it that is switched on by default, contrast and landmarks included. */
  test.each([...LOTS, 'index'])('%s: axe-core finds nothing', (lot) =>
    seen(place.path(`out/${lot}.html`), DESK, async ({ page }) => {
      await page.evaluate(axe.source);
      const { violations } = await page.evaluate(() =>
        (
          globalThis as unknown as {
            axe: { run(): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };
          }
        ).axe.run(),
      );
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
    }),
  );

  test('notes lead there and are found', () =>
    seen(place.path('out/214.html'), DESK, async ({ page }) => {
      const lost = await page.evaluate(() =>
        [...document.querySelectorAll('sup a')].filter(
          (each) => !document.querySelector(each.getAttribute('href') ?? '-'),
        ),
      );
      expect(lost).toEqual([]);
      await follow(page, 'sup a', /#note-/);
    }));

  test('the index leads to every lot', () =>
    seen(place.path('out/index.html'), DESK, async ({ page }) => {
      await follow(page, 'text=Marine barometer', /221/);
      expect(await page.title()).toBe('221. Marine barometer');
    }));
});

describe('a picture by itself', () => {
  test.each(PICTURES)('%s: no label over another, none cut off, nothing fetched', (name) =>
    seen(place.path(name), DESK, async ({ page, asked, said }) => {
      expect(await picturesFaults(page)).toEqual([]);
      expect([asked.length, said]).toEqual([1, []]);
    }),
  );

  test('without colour, what is certain is filled and what is possible is hatched', () =>
    seen(place.path('object.svg'), DESK, async ({ page }) => {
      const fills = await page.evaluate(() => [
        ...new Set([...document.querySelectorAll('g > rect')].map((each) => each.getAttribute('fill') ?? '')),
      ]);
      expect(fills.some((fill) => fill.startsWith('url(#'))).toBe(true);
      expect(fills.some((fill) => fill.startsWith('#'))).toBe(true);
    }));
});

describe('hostile texts', () => {
  test('nothing of them runs, is fetched or leaves its place', async () => {
    const [index, lot] = await seen(hostile.path('out/index.html'), DESK, async ({ page, asked, said }) => {
      const href = await page.evaluate(() => document.querySelector('a')?.href ?? '');
      expect([asked.length, said]).toEqual([1, []]);
      expect(await scrollsSideways(page)).toBe(false);
      return [page.url(), href];
    });
    expect(lot?.split('/').slice(0, -1)).toEqual(index?.split('/').slice(0, -1));
    await seen(new URL(lot ?? '').pathname, TELEPHONE, async ({ page, asked, said }) => {
      expect([asked.length, said]).toEqual([1, []]);
      expect(await page.evaluate(() => document.querySelectorAll('script, iframe, img, object, [onload]').length)).toBe(
        0,
      );
      expect(await page.textContent('h1')).toContain('<script>alert(1)</script>');
      expect(await scrollsSideways(page)).toBe(false);
    });
  });
});
