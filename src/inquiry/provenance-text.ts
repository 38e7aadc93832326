import type { Link } from '../attribution/chain-links.ts';
import { wholeYears } from '../dating/making-words.ts';
import type { MarkRole } from '../dating/mark-roles.ts';
import { phrase } from '../time/phrase.ts';
import { type Day, lastDay, type Span } from '../time/span.ts';
import type { ObjectMark, ObjectMarks } from './object-marks.ts';

/** One mark in a succession: who put it on and when; `person` undefined is somebody unrecorded. */
export type Holding = {
  readonly mark: string;
  readonly person: string | undefined;
  readonly span: Span;
  readonly link: Link | undefined;
};

/** Days between two marks on which nobody is known to have held the object. */
export type Gap = { readonly after: string; readonly before: string; readonly span: Span };

type Succession = {
  readonly holdings: readonly Holding[];
  readonly gaps: readonly Gap[];
  readonly nameOf: (person: string) => string;
  /** How firmly a holder may be put, over all successions. */
  readonly wordingOf: (person: string) => string;
};

type Sentence = { readonly middle: number; readonly text: string };

/** The likeliest succession for print: the making, then holders, gaps and other marks in the order of their days. */
export function provenanceText({ marks }: ObjectMarks, made: string, succession: Succession): string {
  const words = new Map(marks.map(({ chain, row }) => [chain.id, row.text]));
  const unfit = new Set(marks.filter(({ fitting }) => fitting === 0).map(({ chain }) => chain.id));
  const held = succession.holdings.map((holding): Sentence => {
    const gap = succession.gaps.find(({ before }) => before === holding.mark);
    const before = gap === undefined ? '' : `No holder is known ${phrase(yearsWithin(gap.span))}. `;
    return {
      middle: middleOf(holding.span),
      text: `${before}${unfit.has(holding.mark) ? 'Nobody recorded fits' : `${holderInWords(holding, succession)}:`} “${words.get(holding.mark) ?? holding.mark}”, ${yearsOf(holding.span)}.`,
    };
  });
  const others = marks
    .filter(({ chain }) => !succession.holdings.some(({ mark }) => mark === chain.id))
    .map((mark): Sentence => ({ middle: middleOf(mark.days.marking.window), text: otherMarkInWords(mark) }))
    .sort((a, b) => a.middle - b.middle);
  const making = made === 'date not determined' ? 'When it was made is not determined.' : `Made ${made}.`;
  return [making, ...merged(held, others)].join(' ');
}

const middleOf = ({ from, until }: Span): number => (from + until) / 2;
/** The whole calendar years within a span; the span itself where there are none. */
function yearsWithin(span: Span): Span {
  const outer = wholeYears(span);
  const from =
    outer.from === span.from ? span.from : wholeYears({ from: span.from, until: (span.from + 1) as Day }).until;
  const until = outer.until === span.until ? span.until : wholeYears({ from: lastDay(span), until: span.until }).from;
  return from < until ? { from, until } : span;
}

const yearsOf = (span: Span): string => phrase(wholeYears(span));

/** Holders keep the order of the succession; the other marks are put between them by their days. */
function merged(held: readonly Sentence[], others: readonly Sentence[]): string[] {
  const all: string[] = [];
  let next = 0;
  for (const { middle, text } of held) {
    for (; next < others.length && (others[next]?.middle ?? 0) <= middle; next += 1) all.push(others[next]?.text ?? '');
    all.push(text);
  }
  return [...all, ...others.slice(next).map(({ text }) => text)];
}

const JOINED: Readonly<Record<Link, string>> = {
  same: 'the same again',
  kin: 'kin of the holder before',
  'same surname': 'of the same surname',
  other: '',
};

function holderInWords({ person, link }: Holding, { nameOf, wordingOf }: Succession): string {
  const joined = link === undefined || link === 'other' ? '' : `, ${JOINED[link]}`;
  if (person === undefined) return `Somebody unrecorded${joined}`;
  return `${nameOf(person)} (${wordingOf(person)})${joined}`;
}

const CALLED: Readonly<Record<MarkRole, string>> = {
  maker: 'Maker’s mark',
  retailer: 'Retailer’s mark',
  owner: 'Owner’s mark that names nobody',
  depository: 'Depository’s label',
  carrier: 'Carrier’s label',
  sale: 'Sale label',
  other: 'Other mark',
};

/** By its likeliest role, of several by which it names no holder. */
function otherMarkInWords({ row, days, weighed }: ObjectMark): string {
  const [{ role }] = row.roles;
  const called = weighed === undefined || role !== 'owner' ? CALLED[role] : 'Mark that may name no holder';
  return `${called}: “${row.text}”, ${yearsOf(days.marking.window)}.`;
}
