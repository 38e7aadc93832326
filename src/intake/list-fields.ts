/** What a column of a list can hold; the names that a header may use as they are. */
export const LIST_FIELDS = [
  'series',
  'edition',
  'as_at',
  'person',
  'name',
  'surname',
  'forenames',
  'rank',
  'corps',
  'dated',
  'page',
  'kind',
  'note',
] as const;
export type ListField = (typeof LIST_FIELDS)[number];
