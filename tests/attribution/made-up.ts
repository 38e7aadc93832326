import type { CandidateInput, NameForm, Post } from '../../src/attribution/candidate.ts';
import type { Membership } from '../../src/careers/career.ts';
import { ALL_TIME, type Day, type Span } from '../../src/time/span.ts';

export const span = (from: number, until: number): Span => ({ from: from as Day, until: until as Day });

/** A membership from any rule of the day. */
function member(support: Span, rule: (day: number) => number): Membership {
  return {
    support,
    at: (day) => (day >= support.from && day < support.until ? rule(day) : 0),
    fill: (out, from) => {
      for (let i = 0; i < out.length; i += 1) {
        const day = from + i;
        out[i] = day >= support.from && day < support.until ? rule(day) : 0;
      }
    },
  };
}

/** In post for certain from `rise` to `fall`, with a straight slope on either side of it to the ends of the span. */
export const slope = (from: number, rise: number, fall: number, until: number): Membership =>
  member(span(from, until), (day) => {
    if (day < rise) return (day - from + 1) / (rise - from + 1);
    return day < fall ? 1 : (until - day) / (until - fall + 1);
  });

export const post = (membership: Membership, rest: Partial<Post> = {}): Post => ({
  id: undefined,
  standing: 'in-post',
  membership,
  rankBits: 0,
  corpsBits: 0,
  tenure: undefined,
  provisional: false,
  ...rest,
});

export const form = (surnameBits: number, forenameBits = 0, inUse: Span = ALL_TIME): NameForm => ({
  surnameBits,
  forenameBits,
  inUse,
});

export const candidate = (
  person: string,
  posts: readonly Post[],
  rest: Partial<CandidateInput> = {},
): CandidateInput => ({
  person,
  rank: 'captain',
  forms: [form(0)],
  placeBits: 0,
  posts,
  ...rest,
});
