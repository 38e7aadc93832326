// Installs exactly what the lock file names, unless that is what is installed already.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';

const mark = 'node_modules/.heldby-installed';
const wanted = `${process.version} ${readFileSync('package-lock.json', 'utf8')}`;
if (!existsSync(mark) || readFileSync(mark, 'utf8') !== wanted) {
  console.error('Installing what package-lock.json names (the SQLite module is compiled: a minute or so) …');
  const { status } = spawnSync('npm', ['ci', '--no-fund', '--no-audit', '--loglevel=error'], {
    stdio: ['ignore', 2, 2],
    shell: process.platform === 'win32',
  });
  if (status !== 0) {
    console.error(
      'The installation failed. It needs the npm registry, and python3, make and a C++ compiler where no built SQLite module is to be had.',
    );
    process.exit(1);
  }
  writeFileSync(mark, wanted);
}
