import { writeSync } from 'node:fs';
import { EXIT, HeldbyError } from '../errors.ts';

/** Whole texts in one go, waiting where a pipe is full; a reader that has gone (`| head`) is no fault. */
export function writeOut(descriptor: 1 | 2, text: string): void {
  const bytes = Buffer.from(text, 'utf8');
  for (let at = 0; at < bytes.length; ) {
    try {
      at += writeSync(descriptor, bytes, at);
    } catch (error) {
      const code = error instanceof Error && 'code' in error ? error.code : undefined;
      if (code === 'EAGAIN') {
        Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 5);
        continue;
      }
      if (code === 'EPIPE') process.exit(EXIT.done);
      throw new HeldbyError(
        'CANNOT_WRITE',
        'The answer could not be written out.',
        'Look at the disk or pipe that it was sent to. What was acknowledged in the journal stands: heldby history',
      );
    }
  }
}
