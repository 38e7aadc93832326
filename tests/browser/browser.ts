import { existsSync, mkdirSync, mkdtempSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { type Browser, chromium } from 'playwright-core';

const KEPT = resolve(import.meta.dirname, '../../node_modules/.cache/heldby-browser');

const LETTERS = resolve(KEPT, 'letters.conf');

/** The package's own list of places for letters has only those of the service that it was made for: without it, none are drawn. */
const lettersIn = (folder: string): string =>
  `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig><dir>${folder}</dir><cachedir>${folder}</cachedir></fontconfig>
`;

/**
 * A Chromium without a window. The one that an npm package carries within it is unpacked once; it runs on Linux on x64
 * and brings its libraries and letters with it. Anywhere else HELDBY_BROWSER names the program to use.
 */
export async function openBrowser(): Promise<Browser> {
  const named = process.env['HELDBY_BROWSER'];
  if (named === undefined && (process.platform !== 'linux' || process.arch !== 'x64'))
    throw new Error('There is no browser here for the tests: name a Chromium by HELDBY_BROWSER=/path/to/chromium');
  if (named === undefined) {
    if (!existsSync(KEPT)) await unpacked();
    writeFileSync(LETTERS, lettersIn(resolve(KEPT, 'fonts')));
  }
  return await chromium.launch({
    executablePath: named ?? resolve(KEPT, 'chromium'),
    args: ['--no-sandbox', '--no-zygote', '--disable-gpu', '--font-render-hinting=none'],
    env: {
      ...(process.env as Record<string, string>),
      ...(named === undefined ? { LD_LIBRARY_PATH: resolve(KEPT, 'al2023/lib'), FONTCONFIG_FILE: LETTERS } : {}),
    },
  });
}

/**
 * The package unpacks into the folder for temporary files, and takes its libraries along where it believes to run in the
 * service that it was made for; both are told to it by the environment, which is then put back.
 */
async function unpacked(): Promise<void> {
  mkdirSync(dirname(KEPT), { recursive: true });
  const beside = mkdtempSync(`${KEPT}-`);
  const before = { ...process.env };
  Object.assign(process.env, { TMPDIR: beside, AWS_EXECUTION_ENV: 'AWS_Lambda_nodejs20.x' });
  try {
    const { default: carried } = await import('@sparticuz/chromium');
    await carried.executablePath();
    if (!existsSync(KEPT)) renameSync(beside, KEPT);
  } finally {
    for (const name of Object.keys(process.env)) if (!(name in before)) delete process.env[name];
    Object.assign(process.env, before);
    rmSync(beside, { recursive: true, force: true });
  }
}
