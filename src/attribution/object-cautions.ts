import type { Caution } from './cautions.ts';
import data from './object-cautions.json' with { type: 'json' };

/** The cautions that go with an answer about an object, in the order of the data file. None is ever left out. */
export const objectCautions = (holds: Readonly<Record<string, boolean>>): Caution[] =>
  data.cautions.filter(({ id }) => id === 'opinion' || holds[id] === true).map(({ id, text }) => ({ id, text }));
