import type { Inline, NoteText } from './lines.ts';
import type { KeptPhotograph } from './photograph.ts';
import type { Picture } from './picture.ts';

/** What a report is made of, whatever it is written as. */
export type Block =
  | { readonly kind: 'heading'; readonly level: 1 | 2 | 3; readonly text: string }
  | { readonly kind: 'paragraph'; readonly line: readonly Inline[] }
  | { readonly kind: 'items'; readonly numbered: boolean; readonly items: readonly (readonly Inline[])[] }
  | { readonly kind: 'notes'; readonly title: string; readonly notes: readonly NoteText[] }
  | { readonly kind: 'picture'; readonly title: string; readonly picture: Picture; readonly lines: PictureWords }
  /** Of a picture that was taken; where it cannot be shown its caption is not needed. */
  | { readonly kind: 'photograph'; readonly caption: string; readonly kept: KeptPhotograph }
  | { readonly kind: 'closing'; readonly text: string };

/** The picture in words, by its groups. */
export type PictureWords = readonly { readonly title: string; readonly lines: readonly string[] }[];

export type Document = {
  readonly title: string;
  readonly language: string;
  readonly blocks: readonly Block[];
};
