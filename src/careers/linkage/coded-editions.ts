import type { ListEdition } from './entries.ts';
import { compareTexts, Numbered } from './numbered.ts';

/** Editions in the order of time; a place in it is a *step*. */
export type CodedEditions = {
  readonly sorted: readonly ListEdition[];
  /** For each edition as given its step. */
  readonly stepOf: Int32Array;
  /** Middle of the day or days that the edition stands for. */
  readonly day: Float64Array;
  readonly service: Int32Array;
  readonly services: readonly string[];
  /** 1 at the first edition of each service. */
  readonly isFirst: Uint8Array;
};

const middle = ({ asAt }: ListEdition): number => (asAt.from + asAt.until - 1) / 2;

export function codeEditions(editions: readonly ListEdition[]): CodedEditions {
  const order = editions
    .map((edition, at) => ({ edition, at, day: middle(edition) }))
    .sort(
      (a, b) =>
        a.day - b.day ||
        compareTexts(a.edition.service, b.edition.service) ||
        compareTexts(a.edition.label, b.edition.label) ||
        compareTexts(a.edition.id, b.edition.id),
    );
  const stepOf = new Int32Array(editions.length);
  for (const [step, { at }] of order.entries()) stepOf[at] = step;
  const services = new Numbered();
  const service = Int32Array.from(order, ({ edition }) => services.of(edition.service));
  return {
    sorted: order.map(({ edition }) => edition),
    stepOf,
    day: Float64Array.from(order, ({ day }) => day),
    service,
    services: services.texts,
    isFirst: Uint8Array.from(service, (of, step) => (service.indexOf(of) === step ? 1 : 0)),
  };
}
