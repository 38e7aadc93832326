import type { CandidateAnswer, CandidatesAnswer } from '../inquiry/candidates.ts';
import type { LotAttribution, LotMark, LotReport } from '../inquiry/report-lot.ts';
import type { TenureAnswer } from '../inquiry/tenures.ts';
import type { Block } from './document.ts';
import { capital, type Inline, plain, sentence } from './lines.ts';
import { markText } from './lot-marks.ts';
import { markNumber, type Notes, recordsNamed } from './notes.ts';
import type { PhraseName } from './phrases.ts';
import { degreeOf, isPrinted, type Naming, type Words } from './words.ts';

/** Whom each mark names, with what degree, and who else was considered. */
export function attributionSection(lot: LotReport, words: Words, naming: Naming, notes: Notes): Block[] {
  const marks = lot.marks.filter(({ candidates }) => candidates !== null);
  if (marks.length === 0) return [{ kind: 'paragraph', line: plain(words.say('attribution.none')) }];
  const anyShare = words.style.shares && marks.some(({ candidates }) => (candidates?.candidates.length ?? 0) > 0);
  const told = [words.say('attribution.shares'), ...(marks.length > 1 ? [words.say('attribution.each')] : [])];
  return [
    ...(anyShare ? [paragraph(told.join(' '))] : []),
    ...marks.flatMap((mark) => markBlocks(lot, mark, words, naming, notes)),
  ];
}

function markBlocks(lot: LotReport, mark: LotMark, words: Words, naming: Naming, notes: Notes): Block[] {
  const answer = mark.candidates;
  if (answer === null) return [];
  const [leader] = answer.candidates;
  const conclusion: Inline[] =
    leader === undefined ? nobody(answer, words, naming) : leaderLine(lot, leader, words, naming, notes);
  const [head, ...rest] = conclusion;
  const text = head !== undefined && 'text' in head ? head.text : '';
  const line: Inline[] = [
    ...plain(
      words.say('attribution.mark', {
        number: String(markNumber(lot, mark.id)),
        text: markText(mark, naming),
        conclusion: text,
      }),
    ),
    ...rest,
  ];
  const together = leader === undefined ? undefined : allMarks(lot, mark, leader, words, naming);
  const own = lot.attributions.filter((each) => each.mark === mark.id).map((each) => ownOpinion(each, words, naming));
  const rivals = leader === undefined ? [] : rivalItems(answer, leader, words, naming);
  return [
    { kind: 'paragraph', line },
    ...own.map(paragraph),
    ...(rivals.length === 0
      ? []
      : [
          paragraph(words.say('attribution.rivals')),
          { kind: 'items', numbered: false, items: rivals.map(plain) } as const,
        ]),
    // Behind the rivals, whose shares are of this mark by itself, as the leader's is.
    ...(together === undefined ? [] : [paragraph(together)]),
  ];
}

const paragraph = (text: string): Block => ({ kind: 'paragraph', line: plain(text) });

/** What the likeliest succession says of a mark, where the object has several: it may be surer, or name another. */
function allMarks(
  { provenance, marks }: LotReport,
  mark: LotMark,
  leader: CandidateAnswer,
  words: Words,
  naming: Naming,
): string | undefined {
  const holder = provenance?.chains[0]?.holders.find((each) => each.mark === mark.id);
  if (holder === undefined || marks.length < 2) return undefined;
  if (holder.person === null) return words.say('attribution.together.unrecorded');
  const found = provenance?.holders.find(({ person }) => person?.id === holder.person?.id);
  const degree = degreeOf(found?.wording ?? '');
  if (found === undefined || !isPrinted(words, degree)) return undefined;
  const values = { grade: words.degree(degree), person: naming.plain(holder.person), share: words.share(found.share) };
  const name = holder.person.id === leader.person.id ? 'attribution.together' : 'attribution.together.other';
  return words.say(words.style.shares ? name : `${name}.bare`, values);
}

/** A name further off than this is none that the reading brings to mind, and is not printed. */
const MOST_BITS = 32;
/** Once in so many: whole hundreds, thousands, tens of thousands and so on, as people round. */
const onceIn = (bits: number): string => {
  const many = 2 ** bits;
  const unit = 10 ** Math.floor(Math.log10(many));
  return String(Math.round(many / unit) * unit).replace(/\B(?=(?:\d{3})+$)/g, ',');
};

function nobody({ beyond, ruledOut, mark }: CandidatesAnswer, words: Words, naming: Naming): Inline[] {
  const near = beyond
    .filter(({ bits }) => bits <= MOST_BITS)
    .map(({ person, bits }) =>
      words.say('attribution.beyond.person', { person: naming.full(person), count: onceIn(bits) }),
    );
  const out = ruledOut.map((each) =>
    sentence(capital(ruledOutInWords(each, mark.reading.rank !== null, words, naming))),
  );
  return plain(
    [
      words.say('attribution.nobody'),
      ...(near.length === 0 ? [] : [words.say('attribution.beyond', { people: words.all(near) })]),
      ...out,
    ].join(' '),
  );
}

/** The leader with the post in which he or she fits, on which evidence; and when the mark would have been put on. */
function leaderLine(lot: LotReport, leader: CandidateAnswer, words: Words, naming: Naming, notes: Notes): Inline[] {
  const { say, dates } = words;
  const degree = degreeOf(leader.wording);
  if (!isPrinted(words, degree) && degree !== 'open') return plain(say('attribution.unprinted'));
  const posts = (lot.people[leader.person.id]?.tenures ?? []).filter(({ id }) => leader.tenures.includes(id));
  const person = naming.full(leader.person, leader.markedBetween.from);
  const post = naming.isWithheld(leader.person.id) ? '' : posts.map((each) => postInWords(each, words)).join('');
  const standing = leader.standing === 'in-post' ? [] : [words.named('standing', leader.standing)];
  const parts = [
    degree === 'open' && !isPrinted(words, degree)
      ? say('attribution.open', { person, post })
      : say('attribution.leader', { grade: words.degree(degree), person, post }),
    ...standing,
    ...(words.style.shares ? [words.share(leader.share)] : []),
    ...(leader.hangsOn.length === 0
      ? []
      : [say('attribution.hangs', { records: words.all(recordsNamed(lot, leader.hangsOn, words, naming)) })]),
    ...(leader.provisional ? [say('attribution.provisional')] : []),
  ];
  const grounds = posts.flatMap(({ grounds: of }) => Object.values(of).flat());
  return [
    ...plain(sentence(words.all(parts))),
    ...notes.call(lot, grounds, naming),
    ...plain(` ${say('attribution.marked', { dates: dates.span(leader.markedBetween) })}`),
  ];
}

function postInWords({ rank, corps, possible, certain }: TenureAnswer, { say, dates }: Words): string {
  const sure = certain !== null && certain.from === possible.from && certain.to === possible.to;
  const days =
    certain === null || sure
      ? dates.days(possible)
      : say('post.days', { certain: dates.days(certain), possible: dates.days(possible) });
  return corps === null ? say('post.corpsless', { rank, dates: days }) : say('post', { rank, corps, dates: days });
}

function ownOpinion({ grade, person, why }: LotAttribution, words: Words, naming: Naming): string {
  const name = naming.full(person);
  if (why === null) return sentence(words.say('attribution.own.bare', { person: name }));
  return sentence(
    grade === null
      ? words.say('attribution.own.ungraded', { person: name, why })
      : words.say('attribution.own', { grade, person: name, why }),
  );
}

/** Rivals of less than this share are counted, not named. */
const NAMED_SHARE = 0.005;

/** Who else was considered: the likeliest first, then somebody unrecorded, then whoever is ruled out. */
function rivalItems(answer: CandidatesAnswer, leader: CandidateAnswer, words: Words, naming: Naming): string[] {
  const { candidates, further, unrecorded, noHolder, ruledOut } = answer;
  const unnamed = answer.mark.roles
    .filter(({ namesHolder }) => !namesHolder)
    .map(({ role }) => words.named('role', role));
  const hasRank = answer.mark.reading.rank !== null;
  const others = candidates.filter((each) => each !== leader);
  const named = others.filter(({ share }) => share >= NAMED_SHARE);
  const rest = others.length - named.length + further.count;
  const restShare = further.share + others.reduce((sum, { share }) => sum + (share < NAMED_SHARE ? share : 0), 0);
  return [
    ...named.map((rival) =>
      words.say('rival', {
        person: naming.full(rival.person, rival.markedBetween.from),
        share: words.share(rival.share),
        grounds: words.all(groundsAgainst(rival, leader, hasRank, words, naming), 'list.semicolon'),
      }),
    ),
    ...(rest === 0
      ? []
      : [
          words.say(rest === 1 ? 'rival.further.one' : 'rival.further', {
            count: String(rest),
            share: words.share(restShare),
          }),
        ]),
    words.say('rival.unrecorded', { share: words.share(unrecorded.share) }),
    ...(noHolder.share === 0
      ? []
      : [words.say('rival.no-holder', { role: words.all(unnamed, 'list.or'), share: words.share(noHolder.share) })]),
    ...ruledOut.map((each) => ruledOutInWords(each, hasRank, words, naming)),
  ].map((text) => sentence(capital(text)));
}

/** What speaks against a rival: how the parts of the mark disagree, and the days. */
function groundsAgainst(
  rival: CandidateAnswer,
  leader: CandidateAnswer,
  hasRank: boolean,
  { say }: Words,
  naming: Naming,
): string[] {
  const { bits, standing } = rival;
  const byPart: readonly (readonly [boolean, PhraseName])[] = [
    [bits.surname > leader.bits.surname, 'rival.surname'],
    [bits.forenames > leader.bits.forenames, 'rival.forenames'],
    [standing === 'implied', 'rival.implied'],
    [standing === 'brevet', 'rival.brevet'],
    [standing === 'courtesy', 'rival.courtesy'],
    [bits.corps > leader.bits.corps, 'rival.corps'],
    [bits.place > leader.bits.place, 'rival.place'],
  ];
  const grounds = byPart.flatMap(([holds, name]) => (holds ? [say(name)] : []));
  // A style kept by courtesy is borne outside the post, so days in post say nothing.
  if (standing !== 'courtesy') {
    const [days, leaderDays] = [rival.possibleOverlap?.days ?? 0, leader.possibleOverlap?.days ?? 0];
    const values = { days: String(days), leaderDays: String(leaderDays), leader: naming.plain(leader.person) };
    if (days < leaderDays) grounds.push(say(hasRank ? 'rival.days' : 'rival.life.days', values));
    if (rival.certainOverlap === null) grounds.push(say(hasRank ? 'rival.uncertain' : 'rival.living'));
  }
  return grounds.length === 0 ? [say('rival.equal')] : grounds;
}

function ruledOutInWords(
  { person, ground, inRank }: CandidatesAnswer['ruledOut'][number],
  hasRank: boolean,
  { say, all, dates }: Words,
  naming: Naming,
): string {
  const name = naming.full(person);
  if (ground === 'rank') return say('rival.out.rank', { person: name });
  return inRank.length === 0
    ? say('rival.out.time.undated', { person: name })
    : say(hasRank ? 'rival.out.time' : 'rival.out.life', {
        person: name,
        dates: all(inRank.map(dates.days), 'list.semicolon'),
      });
}
