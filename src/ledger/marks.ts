import type { Db } from './open.ts';
export type MarkReading = {
  readonly rankText: string | undefined;
  readonly forenames: string | undefined;
  readonly surname: string | undefined;
  readonly corps: string | undefined;
  readonly place: string | undefined;
  readonly rest: readonly string[];
};
export const markPartsOf = (_db: Db, _id: number): MarkReading => ({
  rankText: undefined,
  forenames: undefined,
  surname: undefined,
  corps: undefined,
  place: undefined,
  rest: [],
});
