/** What a kind of record is: how it is stored, what it is called in JSON Lines, what may be said in it. */

export type FieldType =
  | { readonly type: 'text' }
  | { readonly type: 'whole' } // a whole number, not negative
  | { readonly type: 'date' }
  | { readonly type: 'name' } // a name as printed, in the dictionary of names
  | { readonly type: 'rank' } // a rank as printed, in the dictionary of ranks
  | { readonly type: 'corps' }
  | { readonly type: 'texts' } // a list of texts
  | { readonly type: 'choice'; readonly of: readonly string[] }
  | { readonly type: 'roles' } // the role of a mark, or several with their weights
  | { readonly type: 'ref'; readonly to: KindName }
  | { readonly type: 'any-ref'; readonly to: readonly KindName[] | 'all' };

export type Field = FieldType & {
  readonly name: string;
  readonly column: string;
  readonly required?: true;
  readonly otherwise?: string;
};

export type KindName =
  | 'service'
  | 'rank'
  | 'corps'
  | 'series'
  | 'edition'
  | 'person'
  | 'name'
  | 'same'
  | 'differ'
  | 'kin'
  | 'entry'
  | 'link'
  | 'search'
  | 'notice'
  | 'condition'
  | 'object'
  | 'feature'
  | 'mark'
  | 'reading'
  | 'photo'
  | 'attribution'
  | 'assumption'
  | 'setAside'
  | 'fact'
  | 'clue';

export type Kind = {
  readonly kind: KindName;
  /** What a person reads: "an object", "a nil search or sweep". */
  readonly called: string;
  readonly plural: string;
  readonly table: string;
  /** Ids are these letters and a number: `p12`. */
  readonly prefix: string;
  readonly fields: readonly Field[];
};

export const text = (name: string, column = name): Field => ({ type: 'text', name, column });
export const whole = (name: string, column = name): Field => ({ type: 'whole', name, column });
export const date = (name: string, column = `${name}_id`): Field => ({ type: 'date', name, column });
export const ref = (name: string, to: KindName, column = `${name}_id`): Field => ({ type: 'ref', to, name, column });
export const choice = (name: string, of: readonly string[], otherwise?: string, column = name): Field => ({
  type: 'choice',
  of,
  name,
  column,
  ...(otherwise === undefined ? {} : { otherwise }),
});
export const required = (field: Field): Field => ({ ...field, required: true });
